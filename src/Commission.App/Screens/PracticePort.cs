using System.Globalization;
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
    /// <summary>Its name in place of a port's.</summary>
    public const string Name = "practice controller";

    /// <summary>The dialect it speaks.</summary>
    public const string Dialect = "numbered-settings";

    private const string Steps = "stepsPerMm";

    // Often enough for a move that is watched, and next to nothing of a processor while the program rests.
    private const double TurnMs = 20;

    // What was set stays set while the cable is out.
    private PracticeController? controller;

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
        if (name != Name)
            return new Problem($"in practice there is no port \"{Core.Quantities.Words.Clean(name)}\"", $"Name the {Name}, or end practice first");
        var dialect = ShippedDialects.Find(Dialect)!;
        var before = controller;
        controller = new PracticeController(dialect, body);
        foreach (var setting in dialect.Settings.Known)
        {
            if (before is not null)
                controller.ChangedElsewhere(setting.Key, before.Setting(setting.Key));
            else if (setting is { Name: Steps, Axis: { } axis })
                controller.ChangedElsewhere(setting.Key, bench.Machine.Settings.StepsPerMm[(int)axis].ToString("F3", CultureInfo.InvariantCulture));
        }

        return new StreamTransport(new PracticeStream(controller, clock, scale, turnMs: TurnMs));
    }

    /// <summary>Puts the ratios that the controller holds now into the machine: what is measured from now on follows from them.</summary>
    /// <returns>Whether any of them is another one than before.</returns>
    public bool Settle()
    {
        var changed = false;
        foreach (var setting in controller is null ? [] : ShippedDialects.Find(Dialect)!.Settings.Known)
        {
            if (setting is not { Name: Steps, Axis: { } axis } || !double.TryParse(controller!.Setting(setting.Key), NumberStyles.Float, CultureInfo.InvariantCulture, out var steps)
                || Math.Abs(steps - bench.Machine.Settings.StepsPerMm[(int)axis]) < 0.001)
                continue;
            bench.Set(bench.Machine.Settings.WithSteps(axis, steps));
            changed = true;
        }

        return changed;
    }

    // The practice controller records nothing and reads no dialect of the user's.
    private sealed class NoFiles : ITextFiles
    {
        public Outcome<string> Read(string path) => new Problem("practice reads no files", "Use the program outside practice");

        public bool IsThere(string path) => false;

        public Outcome<string> Write(string path, string text) => new Problem("practice writes no files", "Use the program outside practice");
    }
}
