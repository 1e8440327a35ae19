using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Characteristics;
using Commission.Core.History;
using Commission.Core.Quantities;
using Commission.Workshop.Screens.Sheets;
using Commission.Workshop.Sessions;

namespace Commission.Workshop.Screens.Pages;

/// <summary>The bench: what is known of the machine, and what to do next.</summary>
public sealed class BenchPage(Desk desk) : Page(desk)
{
    // The characteristics of every machine in the order of the work: name, kind, axis.
    private static readonly (string Name, string Kind, string? Axis)[] Order =
    [
        ("lost motion X", "backlash", "X"), ("lost motion Y", "backlash", "Y"), ("lost motion Z", "backlash", "Z"),
        ("scale X", "axis-scale", "X"), ("scale Y", "axis-scale", "Y"), ("scale Z", "axis-scale", "Z"),
        ("squareness XY", "squareness", null), ("tram", "tram", null), ("bed map", "flatness", null), ("runout", "runout", null),
        ("test cut", "test-cut", null), ("false trips", "event-rate", null),
    ];

    private int? _chosen;

    /// <inheritdoc/>
    public override string Called => "bench";

    /// <inheritdoc/>
    public override ImmutableArray<string> Help =>
    [
        "One row a characteristic. Where the bar lies against the walls is the verdict: between them 'in', across one '?', behind one 'OUT'.",
        "What the bar is made of is its state: = fresh, - due, x stale, ! suspect. Up and Down choose a row, Enter opens its finding.",
    ];

    /// <inheritdoc/>
    public override Sheet Show(int width, int height)
    {
        var chosen = _chosen is { } at ? Order[at].Name : null;
        return BenchSheet.Of(
            new BenchView
            {
                Machine = Desk.MachineName!, Right = Desk.Today, Rows = [.. Order.Select(Row)], Chosen = _chosen,
                Corner = Desk.Ledger.OpenSkips.IsEmpty ? [] : [Line.Blank, .. Desk.Ledger.OpenSkips.Select(skip => (Line)$" skipped: {skip.Made.Body.Check ?? skip.Made.Body.Step}, {skip.Made.Body.Reason}")],
                Step = chosen is null ? Next : ($"{chosen}: Enter opens its newest finding, or its procedure.", "Esc: back to the next step of the list."),
            },
            width) with { Live = Desk.Live };
    }

    /// <inheritdoc/>
    public override void Choose(int by, bool sideways) =>
        _chosen = _chosen is { } at ? Math.Clamp(at + by, 0, Order.Length - 1) : by > 0 ? 0 : Order.Length - 1;

    /// <inheritdoc/>
    public override void Away() => _chosen = null;

    /// <inheritdoc/>
    public override void FollowNext()
    {
        if (_chosen is { } at && Finding(Order[at]) is { } finding)
            Desk.Show(new FindingPage(Desk, finding.Made));
        else if (Desk.Running is { } work)
            Desk.Show(work);
        else
            Desk.Show(new WorkListPage(Desk));
    }

    /// <inheritdoc/>
    public override void Deed(string action) => FollowNext();

    private (string Next, string Because) Next => Desk.Running is not null
        ? ("Go on with the work where it was left.", "Because: a run is under way.")
        : Order.Select(row => (row, finding: Finding(row))).Where(pair => pair.finding?.Made.Body.Finding.Verdict is Verdict.Outside or Verdict.Undecided).Select(pair => pair.row.Name).FirstOrDefault() is { } open
            ? ($"{open}. Enter opens the list of procedures.", $"Because: {open} is outside its limit, or not decided.")
            : ("Enter opens the list of procedures, in the order of the work.", "Because: what has never been measured is not known.");

    private FindingRecord? Finding((string Name, string Kind, string? Axis) row) => Desk.Ledger.Findings.Values
        .LastOrDefault(finding => finding.Counts && finding.Made.Body is var body && body.Machine == Desk.MachineName && body.Finding.Kind == row.Kind && body.Axis == row.Axis);

    private BenchRow Row((string Name, string Kind, string? Axis) row)
    {
        if (Finding(row) is not { } record)
            return Never(row);
        var made = record.Made.Body;
        var pair = Shown.Pair(made.Finding.Headline);
        var limit = made.Options.Tolerance;
        var unit = ValueFormat.ShownIn(made.Finding.Headline.Unit);
        return new BenchRow(row.Name, BarStuff.Fresh)
        {
            Value = pair?.Value ?? "none", Uncertainty = pair?.Uncertainty ?? "no U", Unit = pair?.Unit ?? "",
            Limit = limit is null ? "" : (limit.Value / unit.Factor).ToString("0.###", CultureInfo.InvariantCulture),
            Gauge = FindingSheet.GaugeOf(made.Finding, made.Options, BarStuff.Fresh),
            Verdict = made.Finding.Verdict switch { Verdict.Within => "in", Verdict.Undecided => "?", Verdict.Outside => "OUT", _ => "" },
            Age = StateTag.Age(Desk.Now - record.Made.At),
        };
    }

    // An empty strip shows what a limit looks like before there is a value.
    private BenchRow Never((string Name, string Kind, string? Axis) row)
    {
        if (ClassLimits.For(row.Kind, Desk.Machine!.Class) is not { } limit)
            return new BenchRow(row.Name, BarStuff.Never);
        var unit = ValueFormat.ShownIn(limit.Unit);
        return new BenchRow(row.Name, BarStuff.Never)
        {
            Limit = (limit.Value / unit.Factor).ToString("0.###", CultureInfo.InvariantCulture), Unit = unit.Symbol,
            Gauge = new Gauge(limit.Value, Shown.IsSigned(limit.Unit), null, 0, Verdict.None, BarStuff.Never),
        };
    }
}
