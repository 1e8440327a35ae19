using System.Collections.Immutable;
using Commission.Core;
using Commission.Core.History;

namespace Commission.Workshop.Requests;

/// <summary>One entry with what belongs to it: the entries of a run, the readings of a finding.</summary>
public static class ShowEntry
{
    /// <summary>What is shown.</summary>
    /// <param name="Entry">The entry.</param>
    /// <param name="Belonging">What belongs to it, in order.</param>
    public sealed record Shown(JournalEntry Entry, ImmutableArray<JournalEntry> Belonging);

    /// <summary>Finds an entry by its number.</summary>
    public static Outcome<Shown> From(IEnumerable<JournalEntry> entries, long number)
    {
        var all = entries.ToList();
        if (all.Find(entry => entry.Sequence == number) is not { } found)
            return new Problem($"there is no entry {number}", "See history list --all");
        var belonging = found.Body switch
        {
            EntryBody.RunStarted => all.Where(entry => entry.Body.Run == number),
            EntryBody.FindingMade finding => all.Where(entry => finding.Readings.Contains(entry.Sequence)),
            EntryBody.ReadingTaken => all.Where(entry => Names(entry.Body, number)),
            _ => [],
        };
        return new Shown(found, [.. belonging]);
    }

    private static bool Names(EntryBody body, long reading) => body switch
    {
        EntryBody.Superseded old => old.Reading == reading,
        EntryBody.Excluded left => left.Reading == reading,
        EntryBody.Noted note => note.About == reading,
        _ => false,
    };
}
