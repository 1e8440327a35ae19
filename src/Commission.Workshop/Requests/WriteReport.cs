using System.Globalization;
using Commission.Core;
using Commission.Core.History;
using Commission.Core.Machines;
using Commission.Core.Procedures;
using Commission.Core.Quantities;
using Commission.Core.Reports;
using Commission.Core.Upkeep;
using Commission.Workshop.Ports;

namespace Commission.Workshop.Requests;

/// <summary>What a report is asked for.</summary>
public sealed record ReportRequest
{
    /// <summary>The machine's name; null for the only one.</summary>
    public string? Machine { get; init; }

    /// <summary>The instant as typed: a date, or a date with a time and zone; null for the last entry.</summary>
    public string? AsOf { get; init; }

    /// <summary>A second instant to compare with, as typed; null where one state is told.</summary>
    public string? Against { get; init; }

    /// <summary>Number of the run to tell of; null for the whole machine.</summary>
    public long? Session { get; init; }

    /// <summary>Whether the card for the wall is wanted.</summary>
    public bool Card { get; init; }

    /// <summary>Units to show; null for those of the machine.</summary>
    public ShownUnits? Units { get; init; }

    /// <summary>What becomes of a handle: the handle itself, or a name where names are asked for.</summary>
    public Func<string, string> Person { get; init; } = handle => handle;
}

/// <summary>Reports of a machine, made from its store and what the program carries.</summary>
/// <param name="journal">The journal.</param>
/// <param name="program">Version of the program.</param>
/// <param name="procedures">The shipped procedure of an id whose text has a hash; null where no texts are at hand.</param>
public sealed class WriteReport(IJournal journal, string program, Func<string, string, Procedure?>? procedures = null)
{
    private readonly record struct State(Ledger Ledger, ReportScope Scope);

    /// <summary>Builds the report.</summary>
    public Outcome<Report> Run(ReportRequest request)
    {
        if ((request.Card ? 1 : 0) + (request.Session is null ? 0 : 1) + (request.Against is null ? 0 : 1) > 1)
            return new Problem("a card, a session and a comparison are three reports", "Ask for one of them");
        if (journal.LastEntry is not { } last)
            return new Problem("the store holds no entries", "Enter a machine first");
        var all = new Lazy<List<JournalEntry>>(() => [.. journal.Entries()]);
        return At(request, last.At, all, request.AsOf).Then(state => request.Against is { } second
            // One machine is compared with itself, whichever was the only one at the other instant.
            ? At(request with { Machine = state.Scope.Machine.Name }, last.At, all, second).Then<Report>(other => Compared(state, other))
            : Of(request, state));
    }

    private static Outcome<Report> Of(ReportRequest request, State state) => request switch
    {
        { Card: true } => WallCard.Build(state.Ledger, state.Scope),
        { Session: { } run } => SessionReport.Build(state.Ledger, state.Scope, run),
        _ => ReportBuilder.Build(state.Ledger, state.Scope),
    };

    private static Report Compared(State one, State other)
    {
        var (then, now) = one.Scope.AsOf <= other.Scope.AsOf ? (one, other) : (other, one);
        return ComparisonReport.Build(then.Ledger, then.Scope, now.Ledger, now.Scope);
    }

    // A report reads no more of the past than it prints, where the index can tell what that is.
    private Outcome<State> At(ReportRequest request, DateTimeOffset last, Lazy<List<JournalEntry>> all, string? typed) => Instant(typed, last).Then(instant =>
    {
        if (journal.Reported(request.Machine, request.Session, typed is null ? null : instant) is { } known && journal.HashOf(known.Ledger.LastSequence) is { } tip)
            return Stated(request, known.Ledger, known.Upkeep, instant, known.Entries, tip);
        var entries = typed is null ? all.Value : all.Value.TakeWhile(entry => entry.At <= instant).ToList();
        return entries.Count == 0
            ? new Problem("the store holds no entries of that time", "Name a later date")
            : Stated(request, Ledger.From(entries), UpkeepFold.From(entries), instant, entries.Count, journal.HashOf(entries[^1].Sequence) ?? Tip(entries));
    });

    private Outcome<State> Stated(ReportRequest request, Ledger ledger, UpkeepFold upkeep, DateTimeOffset instant, long entries, string tip) =>
        ChooseMachine.From(ledger, request.Machine).Then<State>(described => new State(ledger, new ReportScope
        {
            Machine = described,
            AsOf = instant,
            Entries = entries,
            Tip = tip,
            Upkeep = upkeep,
            Units = request.Units ?? described.Units.Shown(),
            Program = program,
            Limits = journal.Limits,
            Person = request.Person,
            Procedures = procedures ?? ((_, _) => null),
        }));

    /// <summary>Why what was typed is no day or instant that a report can hold for; null where it is one.</summary>
    /// <param name="typed">What was typed.</param>
    public static Problem? WhyNoInstant(string typed) => Instant(typed, default) is Outcome<DateTimeOffset>.Bad { Problems: [var why, ..] } ? why : null;

    private static Outcome<DateTimeOffset> Instant(string? typed, DateTimeOffset last)
    {
        if (typed is null)
            return last;
        if (DateTime.TryParseExact(typed.Trim(), "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var day))
            return new DateTimeOffset(day, last.Offset).AddDays(1).AddTicks(-1);
        return DateTimeOffset.TryParseExact(typed.Trim(), ["yyyy-MM-ddTHH:mmzzz", "yyyy-MM-ddTHH:mm:sszzz"], CultureInfo.InvariantCulture, DateTimeStyles.None, out var instant)
            ? instant
            : new Problem($"\"{Words.Clean(typed)}\" is not a date", "Write 2026-03-31, or 2026-03-31T18:00+02:00");
    }

    // Where the journal has no lines the chain is made again from the entries: the same entries give the same hash wherever they lie.
    private static string Tip(IEnumerable<JournalEntry> entries) => entries.Aggregate(
        JournalLine.NoPrevious,
        (previous, entry) => JournalLine.Write(entry, previous).Match(line => JournalLine.Self(line), _ => previous));
}
