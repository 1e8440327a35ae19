using Commission.Core.History;
using Commission.Core.Upkeep;

namespace Commission.Workshop.Ports;

/// <summary>What a report of now is made of.</summary>
/// <param name="Ledger">What bears on the present, with withdrawn findings, and the readings behind what is printed with all that became of them.</param>
/// <param name="Upkeep">What the states of all results are read from, whole.</param>
/// <param name="Entries">Number of entries of the whole journal.</param>
/// <param name="Latest">The latest instant of an entry: a report as of then or later tells of now.</param>
public sealed record ReportedState(Ledger Ledger, UpkeepFold Upkeep, long Entries, DateTimeOffset Latest);
