using System.Collections.Immutable;
using System.Globalization;
using Commission.Core;
using Commission.Core.History;
using Commission.Practice.Bench;
using Commission.Practice.Draws;
using Commission.Practice.Machines;
using Commission.Practice.Operators;
using Commission.Workshop.Ports;

namespace Commission.App.Rehearsal;

/// <summary>What a practice store remembers of its simulated machine: its seed and what was set and reworked, as notes in the journal.</summary>
/// <param name="journal">The journal.</param>
/// <param name="seed">Seed of the machine.</param>
internal sealed class PracticeRecord(IJournal journal, ulong seed)
{
    private const string Mark = "practice machine: ";

    // Numbers of a note that does not know the highest speeds yet.
    private const int Older = 13;

    /// <summary>The seed of a store that was used before; null where it is new.</summary>
    public static ulong? SeedOf(Ledger ledger) => ledger.Notes.FindLast(IsMark) is { } note
        && ulong.TryParse(note.Body.Text[Mark.Length..].Split(' ')[0], NumberStyles.None, CultureInfo.InvariantCulture, out var seed) ? seed : null;

    /// <summary>The bench as a store left it; a new one where the store is new. Chance goes on and does not begin again.</summary>
    public static PracticeBench Bench(Ledger ledger, ulong seed)
    {
        if (Newest(ledger) is not { } n)
            return PracticeBench.Heron(seed);
        var built = PracticeMachine.Heron(seed);
        var machine = built with
        {
            Settings = built.Settings with
            {
                StepsPerMm = [n[1], n[2], n[3]],
                CompensationMm = [n[4], n[5], n[6]],
                GantryOffsetMm = n[7],
                MaxRateMmMin = n.Length > Older ? [n[13], n[14], n[15]] : built.Settings.MaxRateMmMin,
            },
            State = built.State with
            {
                Frame = built.State.Frame with { SquarenessXZ = n[8], SquarenessYZ = n[9] },
                Spindle = built.State.Spindle with { TiltX = n[10], TiltY = n[11] },
                Bed = n[12] > 0 ? BedState.Surfaced : built.State.Bed,
            },
        };
        var instruments = InstrumentSet.Draw(new DrawSource(seed).For("bench"));
        return new PracticeBench(machine, Hand.Steady, new DrawSource(seed).For("visit", ledger.LastSequence).NextBits(), instruments);
    }

    /// <summary>Writes down how the machine stands, where that has changed.</summary>
    public ImmutableArray<Problem>? Keep(PracticeBench bench)
    {
        var (set, state) = (bench.Machine.Settings, bench.Machine.State);
        double[] numbers =
        [
            .. set.StepsPerMm, .. set.CompensationMm, set.GantryOffsetMm, state.Frame.SquarenessXZ, state.Frame.SquarenessYZ,
            state.Spindle.TiltX, state.Spindle.TiltY, state.Bed.FollowsMachine ? 1 : 0, .. set.MaxRateMmMin,
        ];
        var text = Mark + string.Join(' ', numbers.Select(number => number.ToString("R", CultureInfo.InvariantCulture)).Prepend(seed.ToString(CultureInfo.InvariantCulture)));
        if (journal.Present(null).Ledger.Notes.FindLast(IsMark)?.Body.Text == text)
            return null;
        return journal.Append(new EntryBody.Noted(null, text)) is Outcome<JournalEntry>.Bad(var problems) ? problems : null;
    }

    private static bool IsMark(Entered<EntryBody.Noted> note) => note.Body.About is null && note.Body.Text.StartsWith(Mark, StringComparison.Ordinal);

    private static double[]? Newest(Ledger ledger)
    {
        if (ledger.Notes.FindLast(IsMark) is not { } note)
            return null;
        var parts = note.Body.Text[Mark.Length..].Split(' ');
        var numbers = new double[parts.Length];
        for (var i = 0; i < parts.Length; i++)
        {
            if (!double.TryParse(parts[i], NumberStyles.Float, CultureInfo.InvariantCulture, out numbers[i]))
                return null;
        }

        return numbers.Length is Older or Older + 3 ? numbers : null;
    }
}
