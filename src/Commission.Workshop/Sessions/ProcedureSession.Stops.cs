using Commission.Core;
using Commission.Core.History;
using Commission.Core.Procedures;

namespace Commission.Workshop.Sessions;

/// <content>What was seen when STOP was sent: told here, because this session holds the store.</content>
public sealed partial class ProcedureSession
{
    /// <summary>Keeps what was seen when STOP was sent. It concerns the machine, not the run alone.</summary>
    /// <param name="why">What stopped it.</param>
    /// <param name="answer">What was seen.</param>
    public Outcome<ProcedureRun> StopSeen(string why, StopAnswer answer)
    {
        foreach (var entry in answer.Entries(why))
        {
            var kept = journal.Append(entry with { Machine = request.Machine.Name, Operator = request.Operator });
            StoreFailed |= kept is Outcome<JournalEntry>.Bad;
            if (kept is Outcome<JournalEntry>.Bad bad)
                return new Outcome<ProcedureRun>.Bad(bad.Problems);
        }

        return Run;
    }
}
