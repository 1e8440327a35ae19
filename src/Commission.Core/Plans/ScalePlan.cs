using System.Collections.Immutable;
using Commission.Core.Characteristics;
using Commission.Core.Instruments;
using Commission.Core.Machines;

namespace Commission.Core.Plans;

/// <summary>Plans for the scale of an axis: the ten readings of <see cref="AxisPlan"/>, in rounds that shift by a fraction of the drive's period.</summary>
internal sealed class ScalePlan : PlanKind
{
    private const int MostRounds = 4;
    private const double SetUpMinutes = 5;
    private const double Aside = 0.29;

    public override string Id => "axis-scale";

    public override bool OfAxis => true;

    public override string UsualInstrument => "caliper-150";

    public override Outcome<PlanDesign> Design(PlanQuestion question, PlanTool tool) => Cells(question, tool, 1).Then<PlanDesign>(once =>
    {
        var axis = question.Axis ?? AxisName.X;
        var low = once.Min(At);
        PlanReading Reading(PlanCell cell) => new(cell, [At(cell), cell.Approach == Approach.Increasing ? 0.5 : -0.5, 1], At(cell) - low + AxisPlan.InstrumentMarginMm) { Repeatable = false };
        var templates = ImmutableArray.CreateBuilder<PlanTemplate>();
        templates.Add(new PlanTemplate("both ends and the middle, two readings each", [.. new[] { 0, 1, 2, 7, 8, 9 }.Select(k => Reading(once[k]))]));
        for (var rounds = 1; rounds <= MostRounds; rounds++)
        {
            if (Cells(question, tool, rounds) is Outcome<ImmutableArray<PlanCell>>.Good { Value: var cells })
                templates.Add(new PlanTemplate(PlanTemplate.Times(Usual, rounds), [.. cells.Select(Reading)]));
        }

        return new PlanDesign
        {
            Model = Model(question, tool, [.. once.Select(At)]),
            Templates = templates.ToImmutable(),
            Usual = Usual,
            Pool = [.. Pool(question, axis, low, once.Max(At)).Select(Reading)],
            Reads = Reading,
            Minutes = readings => SetUpMinutes + readings.Count,
            Order = readings => PlanPoints.ThereAndBack(readings, reading => Array.IndexOf(Groups, reading.Cell.Place)),
            Naive = Naive(question, tool),
            Others = Others(question, tool),
            Assumed = question.Machine[axis].TravelPerTurnMm is null ? ["The period of the drive is not known: reckoned with 5 mm."] : [],
        };
    });

    public override PlanProspect? Prospect(PlanQuestion question, PlanAnswer answer) => ScaleProspect.Of(question, answer);

    private const string Usual = "both ends and the middle, a quarter period apart";

    private static readonly string[] Groups = ["near", "middle", "far"];

    private static double At(PlanCell cell) => cell.Given["commanded_mm"];

    // Rounds are shifted by equal parts of a quarter period, so that no position is read twice and each round cancels the drive's period by itself.
    private static Outcome<ImmutableArray<PlanCell>> Cells(PlanQuestion question, PlanTool tool, int rounds)
    {
        var axis = question.Axis ?? AxisName.X;
        var description = question.Machine[axis];
        var quarter = (description.TravelPerTurnMm ?? AxisPlan.AssumedPeriodMm) / 4;
        var travel = question.Machine.Travel(axis);
        var request = new AxisPlanRequest
        {
            Axis = axis, TravelMm = travel, PeriodMm = description.TravelPerTurnMm, StepsPerMm = null, InstrumentRangeMm = tool.Instrument.RangeMm, Window = question.Window, EndMarginMm = question.EndMarginMm,
        };
        return AxisPlan.For(request).Then(once =>
        {
            var shrunk = request with { InstrumentRangeMm = once.Max(At) - once.Min(At) + (2 * AxisPlan.InstrumentMarginMm) - (rounds == 1 ? 0 : quarter) };
            return AxisPlan.For(shrunk).Then<ImmutableArray<PlanCell>>(cells => ImmutableArray.CreateRange(
                from round in Enumerable.Range(0, rounds)
                from cell in cells
                select PlanPoints.OnAxis(question, axis, cell.Place, "commanded_mm", At(cell) + (quarter * round / rounds), cell.Approach == Approach.Increasing)));
        });
    }

    private static PlanModel Model(PlanQuestion question, PlanTool tool, ImmutableArray<double> places)
    {
        var corrections = AxisCorrections.Of(
            new AxisReadings([.. places.Select(c => (c, c, 1))], Directions: true),
            new FitOptions { Instrument = tool.Instrument, StepsPerMm = question.Machine[question.Axis ?? AxisName.X].StepsPerMm });
        return new PlanModel
        {
            Columns = ["scale", "reversal", "zero"],
            Targets = [new("scaleError", "1", [1, 0, 0]), new("reversal", "mm", [0, 1, 0])],
            ScatterMm = tool.ScatterMm, HandFreedom = tool.Freedom, ResolutionMm = tool.Instrument.ResolutionMm, LimitMm = tool.LimitMm,
            Beside = [.. corrections.Parts],
        };
    }

    private static IEnumerable<PlanCell> Pool(PlanQuestion question, AxisName axis, double low, double high)
    {
        var quarter = (question.Machine[axis].TravelPerTurnMm ?? AxisPlan.AssumedPeriodMm) / 4;
        const int stations = 20;
        for (var station = 0; station <= stations; station++)
        {
            var start = low + ((high - low - ((3 + Aside) * quarter)) * station / stations);
            var place = Groups[station < 7 ? 0 : station > 13 ? 2 : 1];
            for (var phase = 0; phase < 4; phase++)
            {
                // Aside of the phases of the design and of its rounds: an added reading is never a repeat.
                var mm = start + ((phase + Aside) * quarter);
                yield return PlanPoints.OnAxis(question, axis, place, "commanded_mm", mm, phase % 2 == 0);
            }
        }
    }

    private static ImmutableArray<PlanWay> Naive(PlanQuestion question, PlanTool tool)
    {
        var length = Math.Min(100, question.Machine.Travel(question.Axis ?? AxisName.X));
        return
        [
            OneMove(question, $"usual practice: one move over {length:0} mm, once", length, tool.ScatterMm, tool.LimitMm),
            OneMove(question, "one move over 10 mm, once", 10, tool.ScatterMm, tool.LimitMm),
        ];
    }

    /// <summary>Zero, move, read: two readings, and lost motion is not told apart.</summary>
    /// <param name="question">The question.</param>
    /// <param name="name">In words.</param>
    /// <param name="lengthMm">Length of the move, mm.</param>
    /// <param name="scatterMm">Scatter of one reading, mm.</param>
    /// <param name="limitMm">Limit of error of the instrument, mm.</param>
    internal static PlanWay OneMove(PlanQuestion question, string name, double lengthMm, double scatterMm, double limitMm) =>
        Planner.Once(question, name, ("scaleError", "1"), 2, 3, Math.Sqrt(2) * scatterMm / lengthMm, limitMm / (Math.Sqrt(3) * lengthMm));

    private static ImmutableArray<PlanOther> Others(PlanQuestion question, PlanTool tool)
    {
        var travel = question.Machine.Travel(question.Axis ?? AxisName.X);
        var others = ImmutableArray.CreateBuilder<PlanOther>();
        if (tool.LimitMm > PlanTool.CheckedLimitMm && tool.Instrument.Kind is InstrumentKind.CaliperDigital or InstrumentKind.CaliperVernier)
        {
            others.Add(tool.CheckedOnce);
        }

        foreach (var mine in question.Owned.Where(mine => mine.Name != tool.Instrument.Name && mine.LimitMm is > 0 && mine.Kind
            is InstrumentKind.CaliperDigital or InstrumentKind.CaliperVernier or InstrumentKind.Tape or InstrumentKind.Rule or InstrumentKind.LengthStandard))
            others.Add(new PlanOther(mine.Name, null, 0, AsSpan(mine), UsualHand.ScatterMm(mine.Kind)));
        foreach (var (id, needs, minutes) in new[] { ("caliper-300", "a caliper of 300 mm", 0.0), ("caliper-600", "a caliper of 600 mm", 0), ("setting-rod-300", "a setting rod of 300 mm and an indicator", 5) })
        {
            var listed = InstrumentCatalogue.All.First(row => row.Id == id);
            var mine = question.Owned.Any(own => own.Kind == listed.Instrument.Kind && own.RangeMm >= listed.Instrument.RangeMm) || tool.Instrument.RangeMm > listed.Instrument.RangeMm;
            if (!mine && listed.Instrument.RangeMm < travel + 300 && listed.Instrument.RangeMm > (tool.Instrument.RangeMm ?? 0))
                others.Add(new PlanOther(listed.Title, needs, minutes, AsSpan(listed.Instrument), UsualHand.ScatterMm(listed.Instrument.Kind)));
        }

        return others.ToImmutable();
    }

    // A rod is used over its whole length, without the margins that jaws and scales need.
    private static Instrument AsSpan(Instrument instrument) => instrument.Kind == InstrumentKind.LengthStandard
        ? instrument with { RangeMm = instrument.RangeMm + (2 * AxisPlan.InstrumentMarginMm) }
        : instrument;
}
