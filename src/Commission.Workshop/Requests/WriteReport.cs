using System.Globalization;
using Commission.Core;
using Commission.Core.History;
using Commission.Core.Reports;
using Commission.Workshop.Ports;

namespace Commission.Workshop.Requests;

/// <summary>The report of a machine as of an instant, made from its store and nothing else.</summary>
public sealed class WriteReport(IJournal journal, string program)
{
    /// <summary>What becomes of a handle: the handle itself, or a name where names are asked for.</summary>
    public Func<string, string> Person { get; init; } = handle => handle;

    /// <summary>Builds the report.</summary>
    /// <param name="machine">The machine's name; null for the only one.</param>
    /// <param name="asOf">The instant as typed: a date, or a date with a time and zone; null for the last entry.</param>
    public Outcome<Report> Run(string? machine, string? asOf)
    {
        var all = journal.Entries().ToList();
        if (all.Count == 0)
            return new Problem("the store holds no entries", "Enter a machine first");
        return Instant(asOf, all[^1].At).Then(instant =>
        {
            var entries = all.TakeWhile(entry => entry.At <= instant || asOf is null).ToList();
            var ledger = Ledger.From(entries);
            return ChooseMachine.From(ledger, machine).Then<Report>(described => ReportBuilder.Build(ledger, new ReportScope
            {
                Machine = described,
                AsOf = instant,
                Entries = entries.Count,
                Tip = Tip(entries),
                Program = program,
                Person = Person,
            }));
        });
    }

    private static Outcome<DateTimeOffset> Instant(string? typed, DateTimeOffset last)
    {
        if (typed is null)
            return last;
        if (DateTime.TryParseExact(typed.Trim(), "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var day))
            return new DateTimeOffset(day, last.Offset).AddDays(1).AddTicks(-1);
        return DateTimeOffset.TryParseExact(typed.Trim(), ["yyyy-MM-ddTHH:mmzzz", "yyyy-MM-ddTHH:mm:sszzz"], CultureInfo.InvariantCulture, DateTimeStyles.None, out var instant)
            ? instant
            : new Problem($"\"{typed}\" is not a date", "Write 2026-03-31, or 2026-03-31T18:00+02:00");
    }

    // The chain is made again from the entries: the same entries give the same hash wherever they lie.
    private static string Tip(IEnumerable<JournalEntry> entries) => entries.Aggregate(
        JournalLine.NoPrevious,
        (previous, entry) => JournalLine.Write(entry, previous).Match(line => JournalLine.Self(line), _ => previous));
}
