using System.Runtime.Versioning;
using Commission.Core.Machines.Dialects;
using Commission.Practice.Controller;

namespace Commission.App.Tests.Attended;

/// <summary>The practice controller behind a pseudo-terminal; the port is opened through the system as a real one is.</summary>
[UnsupportedOSPlatform("windows")]
internal sealed class Board : IDisposable
{
    private readonly PseudoTerminal terminal;

    public Board(string dialect = "numbered-settings", double scale = 60)
    {
        Dialect = dialect;
        Controller = new(ShippedDialects.Find(dialect)!, new ControllerBody([420, 580, 90], [200, 300, 60]));
        terminal = new PseudoTerminal(Controller, scale);
    }

    public string Dialect { get; }

    public PracticeController Controller { get; }

    public string[] Options => ["--port", terminal.Path, "--dialect", Dialect];

    public void Do(Action<PracticeController> what) => terminal.Do(what);

    public void Dispose() => terminal.Dispose();
}
