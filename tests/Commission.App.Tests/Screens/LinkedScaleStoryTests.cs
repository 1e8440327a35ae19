using System.Globalization;
using System.Runtime.Versioning;
using Commission.Adapters.Storage;
using Commission.App.Tests.Attended;
using Commission.Core.Instruments;
using Commission.Practice.Controller;
using Commission.Practice.Machines;

namespace Commission.App.Tests.Screens;

/// <summary>
/// One run by keys in a real terminal, over a port of the system to the practice controller behind it: opened, homed, moved to every reading by
/// the axis' letter, found, written and read back. Whoever is at the keys looks at what is shown and answers that, however long it takes to come.
/// </summary>
[UnsupportedOSPlatform("windows")]
public sealed class LinkedScaleStoryTests : TerminalScreens
{
    private const double ScaleError = 0.0007;

    [Fact]
    public void Axis_scale_is_measured_by_moves_over_the_link_and_its_setting_written()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "there is no such terminal here");
        Fill();
        using var board = new Board(scale: 300, body: new ControllerBody([420, 580, 90], [200, 300, 60]) { HomesLow = new HashSet<AxisName> { AxisName.X, AxisName.Y } });
        using (var terminal = new Tmux(80, 24, $"{Tmux.Plainly} {Tmux.Program} --store {Store}"))
        {
            terminal.Until(screen => screen.Contains("Heron / bench", StringComparison.Ordinal), "the bench");
            terminal.Keys("c");
            terminal.Keys("p");
            terminal.Literally(board.Options[1]);
            terminal.Keys("Enter");
            terminal.Until(screen => screen.Contains(">>   " + board.Options[1], StringComparison.Ordinal), "the port in the list");
            terminal.Send("s");
            terminal.Until(screen => screen.Contains("settings read", StringComparison.Ordinal), "the settings");
            ToScaleOf(AxisName.X, terminal);
            for (var steps = 0; !terminal.Screen.Contains("agrees", StringComparison.Ordinal); steps++)
            {
                Assert.True(steps < 400 && !terminal.Screen.Contains("Enter bench", StringComparison.Ordinal), terminal.Screen);
                Answer(terminal, board);
            }
        }

        var ledger = Ledger.From(Entries(StoreNature.Real));
        var made = ledger.Findings.Values.Single().Made.Body;
        var found = made.Finding.Headline;
        Assert.Equal("X", made.Axis);
        Assert.InRange(found.Value!.Value - ScaleError, -found.ExpandedUncertainty!.Value, found.ExpandedUncertainty.Value);
        Assert.True(ledger.Moves.Count > 5);
        var written = Entries(StoreNature.Real).Select(entry => entry.Body).OfType<EntryBody.SettingWritten>().Last();
        Assert.Equal(("X", "read-back"), (written.Axis, written.Stage));
        Assert.Equal(written.After, double.Parse(board.Controller.Setting("100"), CultureInfo.InvariantCulture), 3);
        Assert.DoesNotContain(board.Controller.Taken, Core.Machines.Dialects.DialectWords.Forbidden);
    }

    // What a person does with whatever is shown; a link that fell silent on a busy computer is read, acknowledged and homed like any other.
    private static void Answer(Tmux terminal, Board board)
    {
        var screen = terminal.Quiet();
        if (screen.Contains("agrees", StringComparison.Ordinal))
            return;
        if (screen.Contains("EVERY KEY STOPS", StringComparison.Ordinal))
            terminal.Until(now => !now.Contains("EVERY KEY STOPS", StringComparison.Ordinal), "the end of the move");
        else if (Box().Match(screen) is { Success: true } box)
            terminal.Confirm(screen, box.Groups[1].Value);
        else if (Count().IsMatch(screen) && !screen.Contains("A slip?", StringComparison.Ordinal))
        {
            terminal.Literally(Caliper(board.Controller.Body));
            terminal.Keys("Enter");
        }
        else
        {
            terminal.Keys(KeyFor(screen));
        }
    }

    // Blocks at any distance, a caliper of two decimals, and what the axis does: it goes too far, and turns with some lost motion.
    private static string Caliper(ControllerBody body)
    {
        var at = body.InTravel(AxisName.X);
        return (3 + ((at - 130) * (1 + ScaleError)) - (body.LastSense(AxisName.X) < 0 ? 0.03 : 0)).ToString("F2", CultureInfo.InvariantCulture);
    }

    private void Fill()
    {
        using var journal = new Stores("test", TimeProvider.System).Open(Store, StoreNature.Real, write: true).Require();
        var heron = HeronMachine.Description;
        journal.Append(new EntryBody.MachineDescribed(heron with { X = heron.X with { Grade = null } }, Retired: false) { Machine = "Heron" }).Require();
        journal.Append(new EntryBody.InstrumentDescribed(new Instrument("caliper 150", InstrumentKind.CaliperDigital, 0.02, 0.01, 150, "invented"), Retired: false)).Require();
        KnownMachine.Pass(journal, KnownMachine.ReadyChecks);
    }
}
