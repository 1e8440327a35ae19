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
        var kind = KindOf(session.Run.Procedure, read.Group);
        if (kind is null || !bench.Knows(kind))
            return "nothing";
        if (session.Run.Readings.IsEmpty)
            bench.Begin(kind);
        return _seen[key] = bench.Read(new Cell(kind, session.Run.Setting.Axis, read.Cell.Given, read.Cell.Words));
    }

    private static string? KindOf(Procedure procedure, string group) =>
        procedure.AllSteps.OfType<Step.Evaluate>().FirstOrDefault(evaluate => evaluate.Groups.Contains(group))?.Kind;
}
