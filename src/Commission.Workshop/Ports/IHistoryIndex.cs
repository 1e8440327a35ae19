using Commission.Core.Upkeep;

namespace Commission.Workshop.Ports;

/// <summary>Quick answers about the past. A copy of what the journal says and nothing more: it may be deleted at any time.</summary>
public interface IHistoryIndex : IDisposable
{
    /// <summary>Sequence of the last entry it knows.</summary>
    long Last { get; }

    /// <summary>Findings of a characteristic that count, in order of time.</summary>
    /// <param name="machine">The machine.</param>
    /// <param name="characteristic">The characteristic.</param>
    /// <param name="axis">The axis or pair; null where it has none.</param>
    /// <param name="place">The place; null where it has none.</param>
    IReadOnlyList<IndexedFinding> Trend(string machine, string characteristic, string? axis = null, string? place = null);

    /// <summary>Runs of a machine in order.</summary>
    IReadOnlyList<IndexedRun> Runs(string machine);

    /// <summary>All that trends of an item are made of: its results that count and what happened to the machine.</summary>
    /// <param name="machine">The machine.</param>
    /// <param name="item">Id of the work item.</param>
    UpkeepFold Series(string machine, string item);

    /// <summary>All findings of a machine, those that were withdrawn too, in order.</summary>
    /// <param name="machine">The machine.</param>
    IReadOnlyList<FindingMark> Findings(string machine);

    /// <summary>Entries that leave readings within a range out, or put others in their place, in order.</summary>
    /// <param name="first">First reading of the range.</param>
    /// <param name="last">Last reading of the range.</param>
    IReadOnlyList<(long Entry, long Reading)> LeftOut(long first, long last);

    /// <summary>How things stand now.</summary>
    /// <param name="machine">The machine; null for what concerns no machine in particular, with the descriptions of all.</param>
    PresentState Present(string? machine);

    /// <summary>All that a report prints.</summary>
    /// <param name="machine">The machine; null for the only one.</param>
    /// <param name="run">The run it tells of; null for the findings in force.</param>
    /// <param name="asOf">The instant it tells of; null for now.</param>
    /// <returns>Null where the machine has no such run, or where only the whole journal can tell.</returns>
    ReportedState? Reported(string? machine, long? run, DateTimeOffset? asOf);

    /// <summary>Machines in use, by name.</summary>
    IReadOnlyList<string> Machines { get; }

    /// <summary>Takes in what was appended to the journal since.</summary>
    void CatchUp();
}

/// <summary>A finding as the index knows it.</summary>
/// <param name="Sequence">Sequence of the finding.</param>
/// <param name="At">When it was made.</param>
/// <param name="Value">Headline value in its unit; null where there is none.</param>
/// <param name="ExpandedUncertainty">Expanded uncertainty; null where there is none.</param>
/// <param name="Unit">Unit of the headline.</param>
/// <param name="Method">Method and version.</param>
/// <param name="FirstReading">Sequence of its first reading; null where it has none in the journal.</param>
/// <param name="LastReading">Sequence of its last reading.</param>
public sealed record IndexedFinding(
    long Sequence, DateTimeOffset At, double? Value, double? ExpandedUncertainty, string Unit, string Method, long? FirstReading, long? LastReading);

/// <summary>Where a finding stands in the journal.</summary>
/// <param name="Sequence">Its sequence.</param>
/// <param name="Counts">Whether it counts: it was not withdrawn.</param>
public sealed record FindingMark(long Sequence, bool Counts);

/// <summary>A run as the index knows it.</summary>
/// <param name="Sequence">Sequence of its first entry.</param>
/// <param name="Last">Sequence of its last entry.</param>
/// <param name="At">When it was begun.</param>
/// <param name="Procedure">Id of the procedure.</param>
/// <param name="Axis">The axis; null where it has none.</param>
/// <param name="Readings">Number of readings taken.</param>
/// <param name="Ended">How it ended; null while it is open.</param>
public sealed record IndexedRun(long Sequence, long Last, DateTimeOffset At, string Procedure, string? Axis, int Readings, string? Ended);
