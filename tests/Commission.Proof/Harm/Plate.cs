using System.Collections.Immutable;
using Commission.Core.Corrections;
using Commission.Core.Instruments;
using Commission.Core.Readings;
using Commission.Practice.Bench;
using Commission.Practice.Machines;
using Commission.Practice.Operators;
using Commission.Proof.Honesty;

namespace Commission.Proof.Harm;

/// <summary>The program's plate: eight marks, 24 readings, one fit, one joint decision.</summary>
internal static class Plate
{
    private const int MostLooks = 3;
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
        var options = Options(scene);
        if (kind.Evaluate(Table(cells, values), options) is not Core.Outcome<Finding>.Good(var finding))
            return;
        for (var look = 0; look < MostLooks; look++)
        {
            int[] questioned = [.. Questioned(finding, cells, sheet).Distinct()];
            if (questioned.Length == 0)
                break;
            foreach (var row in questioned)
                values[row] = sheet.Read(cells[row]);
            if (kind.Evaluate(Table(cells, values), options) is Core.Outcome<Finding>.Good(var again))
                finding = again;
        }

        Act(scene, finding, secondLook);
    }

    /// <summary>What is measured again: readings that are questioned; of a mark that looks displaced all its readings, after it was drilled again.</summary>
    private static IEnumerable<int> Questioned(Finding finding, ImmutableArray<Cell> cells, Sheet sheet)
    {
        foreach (var suspect in finding.Suspects)
        {
            if (suspect.Row > 0)
                yield return suspect.Row - 1;
            if (suspect.Row != 0 || !suspect.Reason.Contains("looks displaced", StringComparison.Ordinal))
                continue;
            // The sentence names the mark by its place, as a person reads it.
            double[] place = [.. suspect.Reason.Split(' ').Select(word => word.TrimEnd(',')).Where(word => char.IsAsciiDigit(word[0]))
                .Select(word => double.Parse(word, CultureInfo.InvariantCulture))];
            if (place.Length != 2)
                continue;
            bool Is(Cell cell, string end) => Math.Abs(cell[$"x{end}_mm"] - place[0]) < 0.01 && Math.Abs(cell[$"y{end}_mm"] - place[1]) < 0.01;
            var own = Enumerable.Range(0, cells.Length).Where(i => Is(cells[i], "1") || Is(cells[i], "2")).ToArray();
            foreach (var end in own.Select(i => (Cell: cells[i], End: Is(cells[i], "1") ? "1" : "2")))
                sheet.Forget(end.Cell, end.End);
            foreach (var row in own)
                yield return row;
        }
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

        var window = JointRule.WindowSpread(scene.Draw.Drive.KnownGrade);
        var tau = scene.Draw.Drive.PlausibleSdPpm * 1e-6;
        var priors = new PlaneErrors(tau, tau, 1.5e-3, double.PositiveInfinity, double.PositiveInfinity);
        var correction = JointRule.Decide(found, covariance, priors, (400, 500), (window, window)).Correction;
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

        /// <summary>The mark is drilled again beside where it was, when it is next needed.</summary>
        public void Forget(Cell cell, string end)
        {
            if (_marks.Remove((cell[$"x{end}_mm"], cell[$"y{end}_mm"])))
                scene.ExtraMinutes += 0.4;
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
