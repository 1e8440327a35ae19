using System.Collections.Immutable;
using System.Globalization;
using Commission.Core;
using Commission.Core.History;
using Commission.Core.Machines;
using Commission.Workshop.Screens.Sheets;

namespace Commission.Workshop.Screens.Pages;

/// <summary>The machine as it is described.</summary>
public sealed class MachinePage(Desk desk) : Page(desk)
{
    /// <inheritdoc/>
    public override string Called => "machine";

    /// <inheritdoc/>
    public override ImmutableArray<string> Help => ["The machine as you described it. It is corrected with 'commission machine edit'; what is unknown is asked on the day a result depends on it."];

    /// <inheritdoc/>
    public override Sheet Show(int width, int height)
    {
        var machine = Desk.Machine!;
        string Of(string fact, AxisName axis) => MachineFacts.All[fact].Get(machine, axis);
        return new Sheet
        {
            Path = $"{machine.Name} / machine", Right = Desk.Today, Live = Desk.Live,
            Body =
            [
                new Line("                    X            Y            Z", [new(0, 50, Ink.Quiet)]),
                (Line)string.Create(CultureInfo.InvariantCulture, $" travel, mm         {machine.TravelMm[0],-13:0.###}{machine.TravelMm[1],-13:0.###}{machine.TravelMm[2]:0.###}"),
                .. MachineFacts.All.Values.Where(fact => fact.OfAxis).Select(fact => (Line)$" {Spaced(fact.Name),-19}{Of(fact.Name, AxisName.X),-13}{Of(fact.Name, AxisName.Y),-13}{Of(fact.Name, AxisName.Z)}".TrimEnd()),
                Line.Blank,
                .. MachineFacts.All.Values.Where(fact => !fact.OfAxis).Select(fact => (Line)$" {Spaced(fact.Name),-19}{Of(fact.Name, AxisName.X)}".TrimEnd()),
            ],
            Next = "Enter goes back to the bench. A describes another machine.", Because = "Nothing is changed by looking.",
            Keys = [new("Enter", "bench", "away"), new("A", "another machine", "another"), new("PgUp, PgDn", "scroll", "scroll"), new("F1", "help", "help"), new("F2", "card", "card")],
        };
    }

    /// <inheritdoc/>
    public override void FollowNext() => Desk.ToBench();

    // The names of the machine's file, read as words: travelPerTurnMm becomes travel per turn, mm.
    private static string Spaced(string name)
    {
        var words = string.Concat(name.Select(c => char.IsAsciiLetterUpper(c) ? " " + char.ToLowerInvariant(c) : c.ToString()));
        return words.EndsWith(" mm", StringComparison.Ordinal) && !words.EndsWith("per mm", StringComparison.Ordinal) ? words[..^3] + ", mm" : words;
    }

    /// <inheritdoc/>
    public override void Deed(string action) => Desk.Show(new SetUpPage(Desk));
}

/// <summary>Results of one characteristic over time, as a list of values with their uncertainty.</summary>
public sealed class TrendPage(Desk desk) : ListPage(desk)
{
    /// <inheritdoc/>
    public override string Called => "trend";

    /// <inheritdoc/>
    public override ImmutableArray<string> Help => ["Every characteristic with its results in the order of time. A change that breaks a baseline begins a new epoch."];

    private ImmutableArray<IGrouping<string, FindingRecord>> Series => [.. Desk.Ledger.Findings.Values
        .Where(finding => finding.Counts && finding.Made.Body.Machine == Desk.MachineName).GroupBy(finding => FindingPage.Named(finding.Made.Body))];

    /// <inheritdoc/>
    protected override int Count => Series.Length;

    /// <inheritdoc/>
    public override Sheet Show(int width, int height) => ListSheet.Of(
        new ListView
        {
            Path = $"{Desk.MachineName} / trend", Right = string.Create(CultureInfo.InvariantCulture, $"epoch {Desk.Ledger.Epoch(Desk.MachineName!)}"), Live = Desk.Live,
            Head = "   what               results   first and last",
            Lines = [.. Series.Select(Text)], Chosen = Chosen,
            Below = Count == 0 ? [] : [.. Series[Math.Min(Chosen, Count - 1)].TakeLast(8).Select(finding => string.Create(CultureInfo.InvariantCulture, $"   {finding.Made.At:d MMM yyyy}   {Shown.Parameter(finding.Made.Body.Finding.Headline)}"))],
            Step = Count < 1 ? ("Nothing has been found yet. Enter goes back to the bench.", "Because: a trend needs results.") : ("Enter goes back to the bench.", "Up and Down choose a series."),
            Keys = Keys("bench"),
        },
        height);

    private static string Text(IGrouping<string, FindingRecord> series)
    {
        static string Day(FindingRecord finding) => finding.Made.At.ToString("d MMM yyyy", CultureInfo.InvariantCulture);
        return string.Create(CultureInfo.InvariantCulture, $"{series.Key,-19}{series.Count(),-10}{Day(series.First())} to {Day(series.Last())}");
    }
}
