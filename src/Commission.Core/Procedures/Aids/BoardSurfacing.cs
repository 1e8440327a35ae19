using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Machines;

namespace Commission.Core.Procedures.Aids;

/// <summary>Lines that surface a board as far as the machine reaches.</summary>
internal static class BoardSurfacing
{
    // From the ends of travel, where switches and bumpers stand.
    private const double MarginMm = 2;

    public static Outcome<ImmutableArray<WorkData>> Make(DataRequest request) => request.Needed("cutter-mm", 6, 80)
        .Then(cutter => request.Needed("depth-mm", 0.1, 10)
            .Then(depth => request.Needed("feed-mm-min", 50, 10_000)
                .Then<ImmutableArray<WorkData>>(feed => ImmutableArray.Create(Surfaced(
                    request.Machine,
                    new SurfacingPlan(request.Machine.Travel(AxisName.X) - (2 * MarginMm), request.Machine.Travel(AxisName.Y) - (2 * MarginMm), cutter, depth, feed))))));

    private static WorkData Surfaced(Machine machine, SurfacingPlan plan)
    {
        var lines = new IsoLines(machine.Units).Begin();
        for (var layer = 1; layer <= plan.Layers; layer++)
        {
            for (var line = 0; line < plan.Lines; line++)
            {
                var y = MarginMm + (line * plan.StepMm);
                // Down to the face that the layer before has left, from there along a ramp; back over it, then the whole line at its depth.
                lines.Above(MarginMm, y).ToHeight(-plan.LayerMm * (layer - 1), plan.FeedMmMin / 4)
                    .Ramp(MarginMm + plan.RampMm, y, -plan.LayerMm * layer, plan.FeedMmMin / 2)
                    .To(MarginMm, y, plan.FeedMmMin).To(MarginMm + plan.WidthMm, y, plan.FeedMmMin).Up();
            }
        }

        return new WorkData("surface-board.txt", string.Create(CultureInfo.InvariantCulture,
            $"{plan.Lines} lines along X, {plan.StepMm:0.#} mm apart, in {plan.Layers} layer(s), about {Math.Ceiling(2 * plan.Minutes):0} minutes with the ways back. Each line goes down along a ramp of {plan.RampMm:0.#} mm, never straight into the board.{LowCorner.Words(machine)} Zero of Z is the highest place of the board.{IsoLines.Ways} The board must be at least {plan.LeastBoardMm:0.#} mm thick, and screws must lie at least {plan.ScrewsBelowMm:0.#} mm below its face."), lines.Lines);
    }
}
