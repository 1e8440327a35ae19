using System.Globalization;
using System.Runtime.Versioning;
using System.Text.RegularExpressions;
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
public sealed partial class LinkedScaleStoryTests : IDisposable
{
    private const double ScaleError = 0.0007;
    private const string Start = "env LC_ALL=C TERM=screen-256color";

    private readonly string _folder = Path.Combine(Directory.CreateTempSubdirectory("commission-story-").FullName, "store");

    public void Dispose() => Directory.Delete(Path.GetDirectoryName(_folder)!, recursive: true);

    [Fact]
    public void Axis_scale_is_measured_by_moves_over_the_link_and_its_setting_written()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "there is no such terminal here");
        Fill();
        using var board = new Board(scale: 300, body: new ControllerBody([420, 580, 90], [200, 300, 60]) { HomesLow = new HashSet<AxisName> { AxisName.X, AxisName.Y } });
        using (var terminal = new Tmux(80, 24, $"{Start} \"{Path.Combine(AppContext.BaseDirectory, "commission")}\" --store {_folder}"))
        {
            terminal.Until(screen => screen.Contains("Heron / bench", StringComparison.Ordinal), "the bench");
            terminal.Keys("c");
            terminal.Keys("p");
            terminal.Literally(board.Options[1]);
            terminal.Keys("Enter");
            terminal.Until(screen => screen.Contains(">>   " + board.Options[1], StringComparison.Ordinal), "the port in the list");
            terminal.Send("s");
            terminal.Until(screen => screen.Contains("settings read", StringComparison.Ordinal), "the settings");
            terminal.Keys("w");
            while (!Chosen().IsMatch(terminal.Screen))
                terminal.Keys("Down");
            terminal.Keys("Enter");
            for (var steps = 0; !terminal.Screen.Contains("agrees", StringComparison.Ordinal); steps++)
            {
                Assert.True(steps < 400 && !terminal.Screen.Contains("Enter bench", StringComparison.Ordinal), terminal.Screen);
                Answer(terminal, board);
            }
        }

        var ledger = Ledger.From(Entries());
        var made = ledger.Findings.Values.Single().Made.Body;
        var found = made.Finding.Headline;
        Assert.Equal("X", made.Axis);
        Assert.InRange(found.Value!.Value - ScaleError, -found.ExpandedUncertainty!.Value, found.ExpandedUncertainty.Value);
        Assert.True(ledger.Moves.Count > 5);
        var written = Entries().Select(entry => entry.Body).OfType<EntryBody.SettingWritten>().Last();
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
            Confirm(terminal, Told(screen), box.Groups[1].Value.ToLowerInvariant());
        else if (Count().IsMatch(screen) && !screen.Contains("A slip?", StringComparison.Ordinal))
        {
            terminal.Literally(Caliper(board.Controller.Body));
            terminal.Keys("Enter");
        }
        else
        {
            terminal.Keys(screen switch
            {
                _ when screen.Contains("until A, S or O is pressed", StringComparison.Ordinal) => "a",
                _ when screen.Contains("A slip?", StringComparison.Ordinal) => "o",
                _ when screen.Contains("S read, by me", StringComparison.Ordinal) || screen.Contains("S means", StringComparison.Ordinal) => "s",
                _ => "Enter",
            });
        }
    }

    // A box is read for half a second before its letter counts, on a busy computer longer: a letter that did nothing is given again. The next box may stand there as soon as this one is gone.
    private static void Confirm(Tmux terminal, string box, string letter)
    {
        do
        {
            if (!terminal.Stands(TimeSpan.FromMilliseconds(800), screen => Told(screen) == box))
                return;
            terminal.Send(letter);
        }
        while (terminal.Stands(TimeSpan.FromSeconds(10), screen => Told(screen) == box));
    }

    // All but the live strip and the keys: what changes by itself is not what was answered.
    private static string Told(string screen) => string.Join('\n', screen.Split('\n').Take(22));

    // Blocks at any distance, a caliper of two decimals, and what the axis does: it goes too far, and turns with some lost motion.
    private static string Caliper(ControllerBody body)
    {
        var at = body.InTravel(AxisName.X);
        return (3 + ((at - 130) * (1 + ScaleError)) - (body.LastSense(AxisName.X) < 0 ? 0.03 : 0)).ToString("F2", CultureInfo.InvariantCulture);
    }

    private void Fill()
    {
        using var journal = new Stores("test", TimeProvider.System).Open(_folder, StoreNature.Real, write: true).Require();
        var heron = HeronMachine.Description;
        journal.Append(new EntryBody.MachineDescribed(heron with { X = heron.X with { Grade = null } }, Retired: false) { Machine = "Heron" }).Require();
        journal.Append(new EntryBody.InstrumentDescribed(new Instrument("caliper 150", InstrumentKind.CaliperDigital, 0.02, 0.01, 150, "invented"), Retired: false)).Require();
        KnownMachine.Pass(journal, KnownMachine.ReadyChecks);
    }

    private List<JournalEntry> Entries()
    {
        using var journal = new Stores("test", TimeProvider.System).Open(_folder, StoreNature.Real, write: false).Require();
        return [.. journal.Entries()];
    }

    [GeneratedRegex(@">> Axis scale with a caliper +X")]
    private static partial Regex Chosen();

    [GeneratedRegex(@"Press ([XYZHU]) to \w+")]
    private static partial Regex Box();

    [GeneratedRegex(@"reading \d+ of \d+ \.")]
    private static partial Regex Count();
}
