using Commission.Core;
using Commission.Core.Machines;
using Commission.Core.Machines.Dialects;
using Commission.Practice.Bench;
using Commission.Practice.Controller;
using Commission.Workshop.Controllers;
using Commission.Workshop.Ports;
using Commission.Workshop.Requests;
using Commission.Workshop.Screens.Pages;

namespace Commission.App.Screens;

/// <summary>The practice controller inside the process, in place of ports: no port of the computer can be opened in practice.</summary>
internal sealed class PracticePort(PracticeBench bench, TimeProvider clock, double scale) : IPortOpener
{
    private const string Name = "practice controller";
    private const string Dialect = "numbered-settings";

    // Often enough for a move that is watched, and next to nothing of a processor while the program rests.
    private const double TurnMs = 20;

    /// <summary>What a desk needs to link to it.</summary>
    public static LinkMeans Means(PracticeBench bench, TimeProvider clock, double scale)
    {
        var connect = new ConnectController(new PracticePort(bench, clock, scale), new NoFiles(), clock);
        return new LinkMeans
        {
            Make = (tell, journal, machine) => new LinkDesk(connect, tell, journal, machine),
            Addresses = () => [new ControllerAddress(Name, Dialect)],
            Wrote = (axis, steps) => bench.Set(bench.Machine.Settings.WithSteps(axis, steps)),
        };
    }

    /// <inheritdoc/>
    public Outcome<ITransport> Open(string name, int baud)
    {
        var machine = bench.Machine.Description;
        var body = new ControllerBody([.. machine.TravelMm], [.. machine.TravelMm.Select(travel => travel * 0.5)])
        {
            HomesLow = Enum.GetValues<AxisName>().Where(axis => machine[axis].HomeAt == HomeEnd.Low).ToHashSet(),
        };
        var controller = new PracticeController(ShippedDialects.Find(Dialect)!, body);
        return new StreamTransport(new PracticeStream(controller, clock, scale, turnMs: TurnMs));
    }

    // The practice controller records nothing and reads no dialect of the user's.
    private sealed class NoFiles : ITextFiles
    {
        public Outcome<string> Read(string path) => new Problem("practice reads no files", "Use the program outside practice");

        public bool IsThere(string path) => false;

        public Outcome<string> Write(string path, string text) => new Problem("practice writes no files", "Use the program outside practice");
    }
}
