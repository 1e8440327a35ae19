using Commission.Core.History;
using Commission.Core.Upkeep;

namespace Commission.Workshop.Ports;

/// <summary>What a report is made of.</summary>
/// <param name="Ledger">What bears on the instant it tells of, with withdrawn findings, and the readings behind what is printed with all that became of them.</param>
/// <param name="Upkeep">What the states of all results are read from, whole.</param>
/// <param name="Entries">Number of entries of the journal until then.</param>
public sealed record ReportedState(Ledger Ledger, UpkeepFold Upkeep, long Entries);
