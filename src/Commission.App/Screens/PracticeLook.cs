using Commission.App.Rehearsal;
using Commission.Core.Machines;
using Commission.Core.Procedures;
using Commission.Practice.Bench;
using Commission.Workshop.Screens.Pages;

namespace Commission.App.Screens;

/// <summary>What somebody sees who looks at the simulated instrument: asked for with a key, never shown by itself.</summary>
public sealed class PracticeLook(PracticeBench bench)
{
    private readonly HashSet<(string Procedure, string Step, AxisName? Axis)> _prepared = [];
    private readonly Dictionary<(string Step, int Cell, int Taken), string> _seen = [];
    private object? _at;

    /// <summary>The text a person would type at this place; the same until the reading has been taken.</summary>
    public string Shows(IWorkSession session, Need.TakeReading read) => Shows(session, session.Run, read);

    /// <inheritdoc cref="Shows(IWorkSession, Need.TakeReading)"/>
    /// <param name="session">What the run belongs to: another one is another visit to the bench.</param>
    /// <param name="run">The run as it asks for the reading.</param>
    /// <param name="read">The reading.</param>
    public string Shows(object session, ProcedureRun run, Need.TakeReading read)
    {
        if (!ReferenceEquals(_at, session))
            _seen.Clear();
        _at = session;
        var key = (read.Step, read.Index, run.Readings.Length);
        if (_seen.TryGetValue(key, out var text))
            return text;
        var cell = BenchTests.CellOf(run, read.Group, read.Cell, read.Index, read.Of);
        if (!bench.Knows(cell.Characteristic))
            return "nothing";
        // Blocks and stands are set up for the plan before its first reading, as a person does; a run that is taken up finds them standing.
        if (_prepared.Add((run.Procedure.Id, read.Step, run.Setting.Axis)) || run.Readings.All(reading => reading.Step != read.Step))
        {
            bench.Begin(cell.Characteristic);
            bench.Prepare([.. run.Cells.Select((planned, i) => BenchTests.CellOf(run, read.Group, planned, i, run.Cells.Length))]);
        }

        return _seen[key] = bench.Read(cell);
    }
}
