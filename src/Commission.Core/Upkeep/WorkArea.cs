using System.Collections.Immutable;
using Commission.Core.Characteristics;
using Commission.Core.History;
using Commission.Core.Machines;
using Commission.Core.Quantities;
using MathNet.Numerics.LinearAlgebra;

namespace Commission.Core.Upkeep;

/// <summary>What is known of the X-Y plane: scale errors X and Y, squareness, reversal values X and Y, amplitudes within a turn X and Y, in this order.</summary>
/// <param name="Values">Seven values; those that are not known are 0.</param>
/// <param name="Covariance">Their covariance, 7 x 7.</param>
public sealed record PlaneKnowledge(ImmutableArray<double> Values, double[,] Covariance)
{
    /// <summary>Number of quantities.</summary>
    public const int Count = 7;
}

/// <summary>What one quantity adds to the figure at the worst corner.</summary>
/// <param name="Quantity">The quantity.</param>
/// <param name="ErrorMm">Length of what it alone does to the position there, mm.</param>
/// <param name="Share">Share of the variance that it alone has, 0 to 1; what quantities share is left out.</param>
public sealed record WorkAreaPart(PlaneQuantity Quantity, double ErrorMm, double Share);

/// <summary>How far commanded and real position lie apart at one corner of the work area.</summary>
/// <param name="At">The corner, mm.</param>
/// <param name="ErrorMm">Position error there, mm: half the lost motion and the amplitude within a turn counted.</param>
/// <param name="Uncertainty">Its standard uncertainty in the direction in which it is largest, mm.</param>
/// <param name="Verdict">Where it lies against the limit.</param>
public sealed record WorkCorner((double X, double Y) At, double ErrorMm, double Uncertainty, Verdict Verdict);

/// <summary>
/// The one figure an owner understands (our choice): how far commanded and real position lie apart at the worst corner of the work area.
/// Bench, report and command line ask here.
/// </summary>
public sealed record WorkArea
{
    /// <summary>Coverage factor of every expanded uncertainty here.</summary>
    public const double CoverageFactor = 2;

    // Scale of both axes and squareness: without one of them there is no figure.
    private const int Needed = 3;

    private static readonly ImmutableArray<Verdict> WorstFirst = [Verdict.Outside, Verdict.Undecided, Verdict.Within, Verdict.None];

    // One-sided 95 % (after ISO 14253-1:2017, from memory).
    private const double GuardFactor = 1.65;

    /// <summary>Width of the work area, mm.</summary>
    public required double WidthMm { get; init; }

    /// <summary>Its depth, mm.</summary>
    public required double DepthMm { get; init; }

    /// <summary>All four corners, the worst first: by its verdict, then by how far its error may reach; empty where the figure cannot be given.</summary>
    public ImmutableArray<WorkCorner> Corners { get; init; } = [];

    /// <summary>The worst corner; null where the figure cannot be given.</summary>
    public (double X, double Y)? Corner { get; init; }

    /// <summary>Error vector at that corner from scale and squareness, mm, without lost motion and what comes back with each turn.</summary>
    public (double X, double Y)? Vector { get; init; }

    /// <summary>Largest position error there, mm: half the lost motion and the amplitude within a turn counted; null where it cannot be given.</summary>
    public double? ErrorMm { get; init; }

    /// <summary>Standard uncertainty of the error vector's two parts there, mm.</summary>
    public (double X, double Y)? VectorUncertainty { get; init; }

    /// <summary>Expanded uncertainty (k = 2) in the direction in which it is largest, mm.</summary>
    public double? ExpandedMm { get; init; }

    /// <summary>The limit, mm.</summary>
    public double? LimitMm { get; init; }

    /// <summary>Where the error lies against the limit: within where it does at all four corners, whichever of contradicting results is taken.</summary>
    public Verdict Verdict { get; init; }

    /// <summary>The results that it rests on, in the order of the quantities.</summary>
    public ImmutableArray<PlaneEvidence> Evidence { get; init; } = [];

    /// <summary>The quantities whose results contradict each other.</summary>
    public ImmutableArray<PlaneEvidence> Disputed => [.. Evidence.Where(evidence => evidence.Disputed)];

    /// <summary>Whether there would be a verdict if results did not contradict each other.</summary>
    public bool Withheld { get; init; }

    /// <summary>The state that stands in place of the verdict; null where all results it rests on hold.</summary>
    public Standing? Instead { get; private init; }

    /// <summary>The quantities whose results are stale or suspect.</summary>
    public ImmutableArray<string> Broken { get; private init; } = [];

    /// <summary>What was never measured, or no longer holds, in words.</summary>
    public ImmutableArray<string> Missing { get; init; } = [];

    /// <summary>What each quantity adds at the worst corner, in their order; empty where the figure cannot be given.</summary>
    public ImmutableArray<WorkAreaPart> Parts { get; init; } = [];

    /// <summary>What the figure rests on; null where it cannot be given.</summary>
    public PlaneKnowledge? Known { get; init; }

    /// <summary>Error vector from scale and squareness at a place, mm: (ex x + g y, ey y); null where it cannot be given.</summary>
    public (double X, double Y)? VectorAt(double x, double y) => Known is { } known ? VectorAt(known, (x, y)) : null;

    /// <summary>Largest position error at a place, mm, half the lost motion and the amplitude within a turn counted; null where it cannot be given.</summary>
    public double? ErrorAt(double x, double y) => Known is { } known ? ErrorAt(known, (x, y)) : null;

    /// <summary>Expanded uncertainty (k = 2) at a place in the direction in which it is largest, mm; null where it cannot be given.</summary>
    public double? ExpandedAt(double x, double y) => Known is { } known ? CoverageFactor * UncertaintyAt(known, (x, y)) : null;

    /// <summary>
    /// The figure of a machine from the results that still hold. Agreeing results are combined; of those that contradict each other the one with
    /// the least U stands in the figure, and a verdict is given only where it is the same whichever of them is taken.
    /// </summary>
    /// <param name="ledger">The ledger.</param>
    /// <param name="machine">The machine; its travel is the work area, its class of work gives the limit.</param>
    /// <param name="classes">Limits by class of work; null for those carried in the program.</param>
    public static WorkArea Of(Ledger ledger, Machine machine, AcceptanceClasses? classes = null)
    {
        var (width, depth) = (machine.Travel(AxisName.X), machine.Travel(AxisName.Y));
        var limit = ClassLimit(machine.Class, width, depth, classes);
        ImmutableArray<PlaneEvidence> evidence = [.. PlaneQuantity.All.Select(quantity => PlaneEvidence.Of(quantity, ResultsInForce.Of(ledger, machine.Name, quantity)))];
        ImmutableArray<string> missing = [.. evidence.Where(one => one.Results.IsEmpty).Select(one => one.Quantity.Title)];
        if (evidence.Take(Needed).Any(one => one.Results.IsEmpty))
            return new WorkArea { WidthMm = width, DepthMm = depth, LimitMm = limit, Verdict = Verdict.Undecided, Missing = missing, Evidence = evidence };
        WorkArea From(IReadOnlyList<PlaneValue> taken) => Of(PlaneEvidence.Together(taken), width, depth, limit);
        var area = From([.. evidence.Select(one => one.Taken)]) with { Missing = missing, Evidence = evidence };
        return PlaneEvidence.Others(evidence) is { } others && others.All(taken => From(taken).Verdict == area.Verdict)
            ? area
            : area with { Withheld = area.Verdict != Verdict.Undecided, Verdict = Verdict.Undecided };
    }

    /// <summary>The same figure; its verdict is withheld where a result that it rests on is stale or suspect.</summary>
    /// <param name="upkeep">How the results of the machine stand.</param>
    public WorkArea By(MachineUpkeep upkeep)
    {
        var broken = Evidence.Select(one => (one.Quantity.Title, Worst: one.Results.Select(result => upkeep.Of(result.Made.Sequence)?.Standing ?? Standing.Fresh).DefaultIfEmpty(Standing.Fresh).Max()))
            .Where(one => one.Worst is Standing.Stale or Standing.Suspect).ToList();
        return broken.Count == 0 ? this : this with { Instead = broken.Max(one => one.Worst), Broken = [.. broken.Select(one => one.Title)], Verdict = Verdict.None };
    }

    /// <summary>The figure from values and covariance.</summary>
    /// <param name="known">What is known.</param>
    /// <param name="widthMm">Width of the work area, mm; it begins at (0, 0).</param>
    /// <param name="depthMm">Its depth, mm.</param>
    /// <param name="limitMm">The limit, mm; null without one.</param>
    public static WorkArea Of(PlaneKnowledge known, double widthMm, double depthMm, double? limitMm)
    {
        ImmutableArray<WorkCorner> corners =
        [
            .. new[] { (0.0, 0.0), (widthMm, 0.0), (0.0, depthMm), (widthMm, depthMm) }.Select(at => CornerOf(known, at, limitMm))
                .OrderBy(corner => WorstFirst.IndexOf(corner.Verdict)).ThenByDescending(corner => corner.ErrorMm + (GuardFactor * corner.Uncertainty)),
        ];
        var worst = corners[0];
        return new WorkArea
        {
            WidthMm = widthMm, DepthMm = depthMm, Corners = corners, Corner = worst.At, LimitMm = limitMm,
            Vector = VectorAt(known, worst.At),
            ErrorMm = worst.ErrorMm, Parts = PartsAt(known, worst.At), Known = known,
            VectorUncertainty = (Math.Sqrt(Plain(known, worst.At, 0)), Math.Sqrt(Plain(known, worst.At, 1))),
            ExpandedMm = CoverageFactor * worst.Uncertainty,
            Verdict = worst.Verdict,
        };
    }

    /// <summary>
    /// The limit by class: what scale (over the width) and squareness (over the depth) may do at the far corner, root of squares, and half
    /// the lost motion. Our choice; no standard has one.
    /// </summary>
    public static double ClassLimit(WorkClass work, double widthMm, double depthMm, AcceptanceClasses? classes = null)
    {
        double Limit(string kind) => (classes ?? AcceptanceClasses.Shipped).For(kind, work)!.Value;
        var (scale, square) = (Limit("axis-scale") * widthMm, Limit("squareness") * depthMm);
        return Math.Sqrt((scale * scale) + (square * square)) + (Limit("backlash") / 2);
    }

    /// <summary>The figure in a line of at most 79 characters.</summary>
    /// <param name="units">Units of its lengths.</param>
    public string Short(ShownUnits units)
    {
        if (ErrorMm is not { } error)
        {
            var corner = units == ShownUnits.Inches ? FormattableString.Invariant($"X {WidthMm / units.Length.Factor:0.0}, Y {DepthMm / units.Length.Factor:0.0} in") : FormattableString.Invariant($"X {WidthMm:0}, Y {DepthMm:0}");
            return $"worst corner ({corner}): not known, {Words.Counted(Missing.Length, "result is", "results are")} missing";
        }

        if (Withheld)
        {
            var more = Disputed.Length == 1 ? "" : FormattableString.Invariant($" and {Disputed.Length - 1} more");
            return $"worst corner: no verdict, results of {Disputed[0].Quantity.Title}{more} do not agree";
        }

        var limit = LimitMm is { } most ? units.Told(FormattableString.Invariant($", limit {most:0.00} mm: {Judged}")) : "";
        // What was never measured is not in it: a corner that is only partly known must not pass for the whole.
        var without = Missing.IsEmpty ? "" : FormattableString.Invariant($", {Missing.Length} missing");
        return $"worst corner: {ValueFormat.Line(error, ExpandedMm, units.Length, CoverageFactor, 0.95, signed: false)}{limit}{without}";
    }

    /// <summary>The figure in one sentence.</summary>
    public string Sentence
    {
        get
        {
            var place = FormattableString.Invariant($"Worst corner of the work area ({WidthMm:0} x {DepthMm:0} mm)");
            var absent = Missing.IsEmpty ? "" : $" Not in it, because not measured or no longer valid: {string.Join(", ", Missing)}.";
            if (ErrorMm is not { } error) return $"{place}: not known.{absent}";
            var verdict = LimitMm is { } limit ? FormattableString.Invariant($", limit {limit:0.00} mm: {Judged}") : "";
            var at = FormattableString.Invariant($"at X {Corner!.Value.X:0} mm, Y {Corner!.Value.Y:0} mm");
            var broken = Broken.IsEmpty ? "" : $" The verdict is withheld, because of what it rests on this no longer holds: {string.Join(", ", Broken)}.";
            return $"{place}: {ValueFormat.Line(error, ExpandedMm, Unit.Of("mm"), CoverageFactor, 0.95, signed: false)} {at}{verdict}.{broken}{Contradiction}{absent}";
        }
    }

    private string Judged => (Instead?.ToString() ?? Verdict.ToString()).ToLowerInvariant();

    // Which result stands in the figure where results contradict each other, and what that does to the verdict.
    private string Contradiction => string.Concat(Disputed.Select(one => FormattableString.Invariant(
            $" The results of {one.Quantity.Title} do not agree (Birge ratio {one.Check!.Birge:0.00}); in the figure stands the one with the least U, {one.Results[0].Name}.")))
        + (Withheld ? " The verdict is withheld, because another of these results would give another one: look for a blunder, or for what changed between them."
            : Disputed.IsEmpty || Verdict == Verdict.None ? ""
            : Verdict == Verdict.Undecided ? " Before more readings look for a blunder, or for what changed between them."
            : " The verdict is the same whichever of them is taken.");

    private static WorkCorner CornerOf(PlaneKnowledge known, (double X, double Y) at, double? limitMm)
    {
        var (error, u) = (ErrorAt(known, at), UncertaintyAt(known, at));
        return new WorkCorner(at, error, u, limitMm is not { } limit ? Verdict.None
            : error + (GuardFactor * u) <= limit ? Verdict.Within
            : error - (GuardFactor * u) >= limit ? Verdict.Outside
            : Verdict.Undecided);
    }

    private static (double X, double Y) VectorAt(PlaneKnowledge known, (double X, double Y) at) =>
        ((known.Values[0] * at.X) + (known.Values[2] * at.Y), known.Values[1] * at.Y);

    private static double ErrorAt(PlaneKnowledge known, (double X, double Y) at)
    {
        var v = known.Values;
        var (dx, dy) = VectorAt(known, at);
        return Math.Sqrt(Math.Pow(Math.Abs(dx) + (Math.Abs(v[3]) / 2) + Math.Abs(v[5]), 2) + Math.Pow(Math.Abs(dy) + (Math.Abs(v[4]) / 2) + Math.Abs(v[6]), 2));
    }

    private static double UncertaintyAt(PlaneKnowledge known, (double X, double Y) at)
    {
        var spread = Spread(known, at);
        return Math.Sqrt((spread[0, 0] + spread[1, 1] + Math.Sqrt(Math.Pow(spread[0, 0] - spread[1, 1], 2) + (4 * spread[0, 1] * spread[0, 1]))) / 2);
    }

    // J C J' with the rows of the vector at a corner, halves of lost motion and amplitudes included.
    private static Matrix<double> Spread(PlaneKnowledge known, (double X, double Y) at)
    {
        var rows = Rows(known, at);
        return rows * Matrix<double>.Build.DenseOfArray(known.Covariance) * rows.Transpose();
    }

    private static Matrix<double> Rows(PlaneKnowledge known, (double X, double Y) at)
    {
        var v = known.Values;
        double Sign(double value, double like) => (value < 0 ? -1 : 1) * (like < 0 ? -1 : 1);
        var (dx, dy) = VectorAt(known, at);
        return Matrix<double>.Build.DenseOfArray(new[,]
        {
            { at.X, 0, at.Y, Sign(v[3], dx) / 2, 0, Sign(v[5], dx), 0 },
            { 0, at.Y, 0, 0, Sign(v[4], dy) / 2, 0, Sign(v[6], dy) },
        });
    }

    private static ImmutableArray<WorkAreaPart> PartsAt(PlaneKnowledge known, (double X, double Y) at)
    {
        var rows = Rows(known, at);
        double[] weights = [.. Enumerable.Range(0, PlaneKnowledge.Count).Select(i => rows.Column(i).L2Norm())];
        double[] variances = [.. weights.Select((weight, i) => weight * weight * known.Covariance[i, i])];
        var all = variances.Sum();
        return [.. PlaneQuantity.All.Select((quantity, i) => new WorkAreaPart(quantity, weights[i] * Math.Abs(known.Values[i]), all > 0 ? variances[i] / all : 0))];
    }

    private static double Plain(PlaneKnowledge known, (double X, double Y) at, int row)
    {
        var c = known.Covariance;
        return row == 0
            ? (at.X * at.X * c[0, 0]) + (at.Y * at.Y * c[2, 2]) + (2 * at.X * at.Y * c[0, 2])
            : at.Y * at.Y * c[1, 1];
    }
}
