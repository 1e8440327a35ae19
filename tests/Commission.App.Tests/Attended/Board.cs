using System.Runtime.Versioning;
using Commission.Core.Machines.Dialects;
using Commission.Practice.Controller;

namespace Commission.App.Tests.Attended;

/// <summary>The practice controller behind a pseudo-terminal; the port is opened through the system as a real one is.</summary>
[UnsupportedOSPlatform("windows")]
internal sealed class Board : IDisposable
{
    private readonly PseudoTerminal terminal;
    private readonly double scale;

    public Board(string dialect = "numbered-settings", double scale = 60, ControllerBody? body = null)
    {
        (Dialect, this.scale) = (dialect, scale);
        Controller = new(ShippedDialects.Find(dialect)!, body ?? new ControllerBody([420, 580, 90], [200, 300, 60]));
        terminal = new PseudoTerminal(Controller, scale);
    }

    public string Dialect { get; }

    public PracticeController Controller { get; }

    public string[] Options => ["--port", terminal.Path, "--dialect", Dialect];

    /// <summary>Lets the machine run as fast as the clock from now on.</summary>
    public void Slow() => terminal.Scale = 1;

    /// <summary>Lets the machine run as fast again as it did at first.</summary>
    public void Fast() => terminal.Scale = scale;

    /// <summary>An axis is pushed by hand to its end at the corner: the low end, Z to the high one. What the controller shows does not change by that.</summary>
    public void PushToCorner(Core.Machines.AxisName axis) =>
        terminal.Do(board => board.Body.Slip(axis, axis == Core.Machines.AxisName.Z ? 1000 : -1000));

    /// <summary>Does something to the controller between two of its turns.</summary>
    public void Do(Action<PracticeController> what) => terminal.Do(what);

    /// <summary>Does something as soon as the machine moves.</summary>
    public void WhenMoving(Action what)
    {
        new Thread(() =>
        {
            while (!Controller.Body.Moving)
                Thread.Yield();
            what();
        })
        { IsBackground = true }.Start();
    }

    public void Dispose() => terminal.Dispose();
}
