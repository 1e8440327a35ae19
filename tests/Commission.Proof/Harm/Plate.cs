using System.Collections.Immutable;
using Commission.Core.Characteristics;
using Commission.Core.Corrections;
using Commission.Core.Instruments;
using Commission.Core.Machines;
using Commission.Core.Readings;
using Commission.Practice.Bench;
using Commission.Practice.Machines;
using Commission.Practice.Operators;
using Commission.Proof.Honesty;

namespace Commission.Proof.Harm;

/// <summary>The program's plate: eight marks, 24 readings, one fit, one joint decision.</summary>
internal static class Plate
{
    private static readonly string[] _names = ["scaleErrorX", "scaleErrorY", "squareness", "reversalX", "reversalY"];

    /// <summary>Drills, reads, fits, and corrects what the joint rule allows.</summary>
    public static void JointRuleAtFivePercent(Scene scene) => Once(scene, secondLook: true);

    private static void Once(Scene scene, bool secondLook)
    {
        if (CharacteristicKinds.Find("plate") is not { } kind)
            return;
        foreach (var axis in Rivals.PlaneAxes)
            Rivals.MendGrossRatio(scene, axis);
        scene.SetUp();
        scene.ExtraMinutes += 1 + (0.4 * 8); // the plate takes a minute more to set up, and the machine drills
        var cells = PlatePlan.Cells((scene.Draw.Caliper.RangeMm - 10) / 140);
        var sheet = new Sheet(scene);
        double[] values = [.. cells.Select(cell => sheet.Read(cell))];
        if (kind.Evaluate(Table(cells, values), Options(scene)) is not Core.Outcome<Finding>.Good(var finding))
            return;
        int[] questioned = [.. finding.Suspects.Select(suspect => suspect.Row).Where(row => row > 0).Distinct()];
        if (questioned.Length > 0)
        {
            foreach (var row in questioned)
                values[row - 1] = sheet.Read(cells[row - 1]);
            if (kind.Evaluate(Table(cells, values), Options(scene)) is Core.Outcome<Finding>.Good(var again))
                finding = again;
        }

        Act(scene, finding, secondLook);
    }

    private static void Act(Scene scene, Finding finding, bool secondLook)
    {
        var at = _names.Select(name => finding.Parameters.Select((p, i) => (p, i)).FirstOrDefault(x => x.p.Name == name, (null!, -1)).i).ToArray();
        if (at.Any(i => i < 0 || finding.Parameters[i].Value is null) || finding.Covariance.IsDefaultOrEmpty)
            return;
        var found = PlaneErrors.Of([.. at.Select(i => finding.Parameters[i].Value!.Value)]);
        if (secondLook && MendWrongRatio(scene, AxisName.X, found.ScaleX) | MendWrongRatio(scene, AxisName.Y, found.ScaleY))
        {
            Once(scene, secondLook: false);
            return;
        }

        var covariance = new double[5, 5];
        for (var i = 0; i < 5; i++)
        {
            for (var j = 0; j < 5; j++)
                covariance[i, j] = finding.Covariance[at[i]][at[j]];
        }

        var tau = scene.Draw.Drive.PlausibleSdPpm * 1e-6;
        var priors = new PlaneErrors(tau, tau, 1.5e-3, double.PositiveInfinity, double.PositiveInfinity);
        var correction = JointRule.Decide(found, covariance, priors, (400, 500)).Correction;
        scene.CorrectScale(AxisName.X, correction.ScaleX);
        scene.CorrectScale(AxisName.Y, correction.ScaleY);
        scene.Square(correction.Squareness);
        scene.Compensate(AxisName.X, -correction.ReversalX);
        scene.Compensate(AxisName.Y, -correction.ReversalY);
    }

    private static bool MendWrongRatio(Scene scene, AxisName axis, double found)
    {
        if (Math.Abs(found) <= scene.Draw.Drive.WrongNominalLimit || AxisPlan.NearestMistake(found) is not { } mistake)
            return false;
        scene.CorrectScale(axis, mistake - 1);
        return true;
    }

    private static FitOptions Options(Scene scene) => new()
    {
        Instrument = new Instrument("caliper", InstrumentKind.CaliperDigital, scene.Draw.Caliper.LimitMm, scene.Draw.Caliper.ResolutionMm,
            scene.Draw.Caliper.RangeMm, "population"),
        Hand = AxisPlan.Study(scene),
    };

    private static ReadingTable Table(ImmutableArray<Cell> cells, double[] values) => new()
    {
        Source = "proof",
        Columns = ["x1_mm", "y1_mm", "approach1", "x2_mm", "y2_mm", "approach2", "edges", "distance_mm"],
        Rows = [.. cells.Select((cell, i) => new ReadingRow
        {
            Number = i + 1,
            Numbers = cell.Given.ToImmutableDictionary().SetItem("distance_mm", values[i]),
            Words = cell.Words.ToImmutableDictionary(),
        })],
    };

    /// <summary>A sheet with marks that stay where they were drilled; one window for each axis.</summary>
    private sealed class Sheet(Scene scene)
    {
        private readonly Dictionary<(double, double), (RealPoint Point, double Hole)> _marks = [];
        private readonly (double X, double Y) _window = (scene.NewWindow(), scene.NewWindow());

        public double Read(Cell cell)
        {
            var (first, second) = (Mark(cell, "1"), Mark(cell, "2"));
            var hole = scene.Draw.HoleMm + ((first.Hole + second.Hole) / 2);
            var distance = first.Point.DistanceTo(second.Point);
            return cell.Words["edges"] == "outer" ? scene.ReadCaliper(distance + hole, null, Faces.Outer) : scene.ReadCaliper(distance - hole);
        }

        private (RealPoint Point, double Hole) Mark(Cell cell, string end)
        {
            var (x, y) = (cell[$"x{end}_mm"], cell[$"y{end}_mm"]);
            if (_marks.TryGetValue((x, y), out var known))
                return known;
            var approach = cell.Words["approach" + end];
            var point = scene.Mark(x, y, scene.From(approach[0] == '-' ? -1 : 1), scene.From(approach[1] == '-' ? -1 : 1));
            var mark = (new RealPoint(point.X + (_window.X * x), point.Y + (_window.Y * y), 0),
                scene.HoleScatterMm * scene.Chance.NextNormal());
            _marks[(x, y)] = mark;
            return mark;
        }
    }
}
