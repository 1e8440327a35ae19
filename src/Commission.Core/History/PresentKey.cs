using System.Globalization;
using System.Text;
using Commission.Core.Motion;
using Commission.Core.Quantities;

namespace Commission.Core.History;

/// <summary>
/// Which entries of a journal still bear on the present, so that a long past need not be read to know how a machine stands: of all
/// entries with one key only the newest does, and one without a key does no longer once its run is over. What a ledger answers about the
/// present is the same from these entries and from all; readings, and findings that newer ones replaced, are not among them.
/// </summary>
public static class PresentKey
{
    // Cannot be typed into a name, so that no two keys run together.
    private const char Between = '\u001f';

    /// <summary>The key of an entry; null where it does not bear on the present.</summary>
    /// <param name="entry">The entry.</param>
    /// <param name="procedure">Procedure of its run; null outside runs.</param>
    /// <param name="axis">Axis of its run; null where it has none.</param>
    public static string? Of(JournalEntry entry, string? procedure, string? axis) => entry.Body switch
    {
        EntryBody.OperatorEntered body => Join("operator", body.Handle),
        EntryBody.Confirmed body => Join("confirmed", body.Machine, body.Step, procedure, axis),
        EntryBody.Skipped body => Skips(body.Machine, body.Step) + entry.Sequence.ToString(CultureInfo.InvariantCulture),

        // A skip is made good by a check that passed, even where a later one did not.
        EntryBody.Checked body => Checked(body, CheckKey.Of(body.Check, body.Step, procedure, axis)),
        EntryBody.FindingMade body => Join("finding", body.Machine, body.Characteristic, body.Axis, body.Place, body.Instrument, Given(body)),
        EntryBody.Moved body => Join("moved", body.Machine, string.Concat(MotionRules.AxesOf(body.Move).Order())),
        EntryBody.RunStarted or EntryBody.RunEnded or EntryBody.ReadingTaken or EntryBody.Superseded or EntryBody.Excluded or EntryBody.Stopped => null,
        // A check whose answer was taken back must not seem passed.
        EntryBody.Noted { Run: not null, Text: not EntryBody.Noted.TakenBack } => null,
        _ => Join("entry", entry.Sequence.ToString(CultureInfo.InvariantCulture)),
    };

    /// <summary>How the keys of all skips of a step begin: only there a confirmation makes anything good.</summary>
    public static string Skips(string? machine, string step) => Join("skipped", machine, step) + Between;

    /// <summary>The machine an entry belongs to; empty where it concerns the store as a whole, as descriptions, instruments and people do, and what takes back an entry of whatever machine.</summary>
    public static string Owner(JournalEntry entry) =>
        entry.Body is EntryBody.MachineDescribed or EntryBody.InstrumentDescribed or EntryBody.OperatorEntered or EntryBody.StudyMade or EntryBody.Withdrawn ? "" : entry.Body.Machine ?? "";

    private static string Checked(EntryBody.Checked body, CheckKey key) => Join("checked", body.Machine, key.Check, key.Procedure, key.Axis, key.Step, body.Passed ? "passed" : "failed");

    // A result without an uncertainty does not replace one that has it. The names may be many: their hash keeps the key short.
    private static string Given(EntryBody.FindingMade made) => made.Finding.Parameters.IsDefaultOrEmpty ? "" : Sha256.Hex(Encoding.UTF8.GetBytes(string.Join(
        ' ', made.Finding.Parameters.Where(parameter => parameter is { Value: not null, StandardUncertainty: > 0 }).Select(parameter => parameter.Name).Order(StringComparer.Ordinal))))[..16];

    private static string Join(params string?[] words) => string.Join(Between, words);
}
