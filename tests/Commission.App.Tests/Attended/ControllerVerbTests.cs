using System.Runtime.Versioning;
using System.Text.Json;
using Commission.App.CommandLine;
using Commission.App.Tests.CommandLine;
using Commission.Core.Machines.Dialects;
using Commission.Practice.Controller;
using Commission.Tests;

namespace Commission.App.Tests.Attended;

[UnsupportedOSPlatform("windows")]
public sealed class ControllerVerbTests : OwnFolder
{
    private string File(string name) => Path.Combine(Folder, name);

    [Theory]
    [InlineData("numbered-settings")]
    [InlineData("letter-words")]
    public async Task Watching_answers_in_json_and_asks_on_standard_error(string dialect)
    {
        using var board = new Board(dialect);
        var ending = await Typed.RunWith("yes\n", ["controller", "watch", "--for", "0.2", "--json", .. board.Options]);
        Assert.Equal((ExitCode.Done, true), (ending.Code, ending.Lines.Length > 0));
        Assert.Contains("ask confirm port: ", ending.Error);
        Assert.All(ending.Lines, line => Assert.Equal("commission.state/1", JsonDocument.Parse(line).RootElement.GetProperty("format").GetString()));
    }

    [Fact]
    public async Task Trips_are_counted_while_it_is_watched_and_the_end_says_what_the_time_proves()
    {
        using var board = new Board();
        using var enough = new CancellationTokenSource();
        var alarm = ShippedDialects.Find(board.Dialect)!.Lock("1")!.Meaning;
        // The alarm comes once a state was shown, and the watch ends once the alarm was.
        using var output = new Heard(line =>
        {
            if (line.Contains(alarm, StringComparison.Ordinal))
                enough.Cancel();
            else if (line.EndsWith(" mm", StringComparison.Ordinal))
                board.Do(controller => controller.Inject(ControllerFault.Alarm));
        });
        using var error = new StringWriter();
        using var lines = new StringReader("yes\n");
        var here = new Surroundings { In = lines, Out = output, Error = error, DefaultStore = File("no-store") };
        var code = await Composition.Compose(here).RunAsync(["controller", "watch", "--trips", "--for", "30", .. board.Options], enough.Token);
        Assert.Equal(ExitCode.Interrupted, code);
        Assert.True(output.ToString().Contains(" h: 1 trip.", StringComparison.Ordinal), output.ToString());
        Assert.Contains("was not tested", output.ToString());
    }

    [Fact]
    public async Task A_watch_in_which_nothing_came_up_counts_no_trip()
    {
        using var board = new Board();
        var ending = await Typed.RunWith("yes\n", ["controller", "watch", "--trips", "--for", "0.3", .. board.Options]);
        Assert.Equal(ExitCode.Done, ending.Code);
        Assert.Contains(": 0 trips.", ending.Out);
        // No machine is named, so no machine's limit is held against it.
        Assert.DoesNotContain("verdict", ending.Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Without_a_yes_no_port_is_opened()
    {
        using var board = new Board();
        var ending = await Typed.RunWith("no\n", ["controller", "watch", "--for", "1", .. board.Options]);
        Assert.Equal(ExitCode.BadRequest, ending.Code);
        Assert.Contains("the port was not opened", ending.Error);
        Assert.Contains("spindle unplugged", ending.Out);
    }

    [Fact]
    public async Task A_port_that_is_not_there_is_a_failure_of_the_link_and_a_wrong_dialect_a_bad_request()
    {
        Assert.Equal(ExitCode.Failed, (await Typed.RunWith("yes\n", "controller", "watch", "--port", File("none"), "--dialect", "letter-words")).Code);
        var ending = await Typed.Run("controller", "watch", "--port", File("none"), "--dialect", "other");
        Assert.Equal(ExitCode.BadRequest, ending.Code);
        Assert.DoesNotContain("ask ", ending.Out);
    }

    [Fact]
    public async Task Settings_are_saved_compared_written_and_restored()
    {
        var saved = File("saved.json");
        using (var board = new Board())
            Assert.Equal(ExitCode.Done, (await Typed.RunWith("yes\n", ["controller", "settings", "save", "--out", saved, .. board.Options])).Code);
        using var second = new Board();
        var compared = await Typed.RunWith("yes\n", ["controller", "settings", "compare", saved, .. second.Options]);
        Assert.Equal((ExitCode.Done, true), (compared.Code, compared.Out.Contains("nothing differs")));

        var unwritten = await Typed.RunWith("yes\nno\n", ["controller", "settings", "write", "--axis", "Y", "--steps-per-mm", "319.6056", .. second.Options]);
        Assert.Equal(ExitCode.BadRequest, unwritten.Code);
        Assert.Contains("steps per mm, Y: 320.000 -> 319.606 steps/mm; 8128 -> 8117.9822 steps/in", unwritten.Out);
        Assert.Equal("320.000", second.Controller.Setting("101"));

        var written = await Typed.Run(["controller", "settings", "write", "--axis", "Y", "--steps-per-inch", "8117.95", "--yes", .. second.Options]);
        Assert.Equal(ExitCode.Done, written.Code);
        Assert.Equal("319.604", second.Controller.Setting("101"));

        var differs = await Typed.RunWith("yes\n", ["controller", "settings", "compare", saved, .. second.Options]);
        Assert.Equal(ExitCode.Outside, differs.Code);
        Assert.Contains("101 (steps per mm, Y): 320.000 -> 319.604", differs.Out);

        Assert.Equal(ExitCode.Done, (await Typed.Run(["controller", "settings", "restore", saved, "--yes", .. second.Options])).Code);
        Assert.Equal("320.000", second.Controller.Setting("101"));
    }

    [Fact]
    public async Task A_dialogue_is_recorded_as_a_script_and_ports_opens_nothing()
    {
        var script = File("script.txt");
        using var board = new Board();
        await Typed.RunWith("yes\n", ["controller", "settings", "save", "--out", File("s.json"), "--record", script, .. board.Options]);
        var lines = await System.IO.File.ReadAllLinesAsync(script, TestContext.Current.CancellationToken);
        Assert.Equal("commission.dialogue/1", lines[0]);
        Assert.Contains("> $$\\x0A", lines);
        Assert.Contains("< $101=320.000", lines);
        var ports = await Typed.Run("controller", "ports", "--json");
        Assert.Equal(ExitCode.Done, ports.Code);
        Assert.Contains("commission.ports/1", ports.Out);
    }

    [Fact]
    public async Task A_known_machine_gets_its_snapshot_and_its_writes_into_the_store()
    {
        var store = File("store");
        await Typed.Run("machine", "new", "Heron", "--travel-mm", "420,580,90", "--steps-per-mm", "320", "--store", store);
        using var board = new Board();
        await Typed.Run(["controller", "settings", "write", "--axis", "X", "--steps-per-mm", "319.5", "--yes", "--store", store, .. board.Options]);
        var history = await Typed.Run("history", "list", "--all", "--store", store);
        Assert.Contains("settings", history.Out);
        Assert.Contains("319.5", history.Out);
    }

    // Hears each line as it is written.
    private sealed class Heard(Action<string> line) : StringWriter
    {
        public override void WriteLine(string? value)
        {
            base.WriteLine(value);
            line(value ?? "");
        }
    }
}
