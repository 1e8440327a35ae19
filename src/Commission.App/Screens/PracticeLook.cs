using Commission.App.Rehearsal;
using Commission.Core.Procedures;
using Commission.Practice.Bench;
using Commission.Workshop.Screens.Pages;

namespace Commission.App.Screens;

/// <summary>What somebody sees who looks at the simulated instrument: asked for with a key, never shown by itself.</summary>
public sealed class PracticeLook(PracticeBench bench)
{
    private readonly Dictionary<(string Procedure, string Step, int Cell, int Taken), string> _seen = [];

    /// <summary>The text a person would type at this place; the same until the reading has been taken.</summary>
    public string Shows(IWorkSession session, Need.TakeReading read)
    {
        var key = (session.Run.Procedure.Id, read.Step, read.Index, session.Run.Readings.Length);
        if (_seen.TryGetValue(key, out var text))
            return text;
        var cell = BenchTests.CellOf(session.Run, read.Group, read.Cell, read.Index, read.Of);
        if (!bench.Knows(cell.Characteristic))
            return "nothing";
        if (session.Run.Readings.IsEmpty)
            bench.Begin(cell.Characteristic);
        return _seen[key] = bench.Read(cell);
    }
}
