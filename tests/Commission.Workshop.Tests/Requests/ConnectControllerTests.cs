using Commission.Practice.Controller;
using Commission.Workshop.Controllers;
using Commission.Workshop.Requests;
using Commission.Workshop.Tests.Controllers;

namespace Commission.Workshop.Tests.Requests;

public class ConnectControllerTests
{
    private static CancellationToken Cancellation => TestContext.Current.CancellationToken;

    /// <summary>Ports of a bench: one board behind every name.</summary>
    private sealed class Bench(string dialect) : IPortOpener
    {
        public List<(string Name, int Baud)> Opened { get; } = [];

        public bool? Lines { get; private set; }

        public Outcome<ITransport> Open(string name, int baud, bool controlLines)
        {
            Lines = controlLines;
            return Open(name, baud);
        }

        public Outcome<ITransport> Open(string name, int baud)
        {
            Opened.Add((name, baud));
            var board = new PracticeController(ShippedDialects.Find(dialect)!, new ControllerBody([420, 580, 90], [200, 300, 60]));
            return new Outcome<ITransport>.Good(new StreamTransport(new PracticeStream(board, TimeProvider.System)));
        }
    }

    private sealed class Paper : ITextFiles
    {
        public Dictionary<string, string> Files { get; } = [];

        public int Refuses { get; set; } = int.MaxValue;

        public Outcome<string> Read(string path) => Files.TryGetValue(path, out var text) ? text : new Problem($"there is no file {path}", "Name another");

        public bool IsThere(string path) => Files.ContainsKey(path);

        public Outcome<string> Write(string path, string text)
        {
            if (Refuses-- <= 0)
                return new Problem("the file cannot be written: this user may not", "Name a folder that exists and may be written to") { File = path };
            Files[path] = text;
            return path;
        }
    }

    [Fact]
    public async Task The_speed_is_that_of_the_dialect_unless_another_is_named()
    {
        var bench = new Bench("numbered-settings");
        var connect = new ConnectController(bench, new Paper(), TimeProvider.System);
        foreach (var baud in new int?[] { null, 250_000 })
        {
            await using var link = (await connect.RunAsync(new("port", "numbered-settings", baud), null, Cancellation)).Require();
            Assert.True(link.Now.Gate.LinkInStep);
        }

        Assert.Equal([("port", 115200), ("port", 250_000)], bench.Opened);
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task Whether_the_control_lines_are_raised_is_a_setting(bool raised)
    {
        var bench = new Bench("numbered-settings");
        var connect = new ConnectController(bench, new Paper(), TimeProvider.System);
        await using var link = (await connect.RunAsync(new("port", "numbered-settings") { ControlLines = raised }, null, Cancellation)).Require();
        Assert.Equal(raised, bench.Lines);
    }

    [Fact]
    public async Task An_unknown_dialect_opens_no_port()
    {
        var bench = new Bench("numbered-settings");
        var connect = new ConnectController(bench, new Paper(), TimeProvider.System);
        var refused = await connect.RunAsync(new("port", "none-such"), null, Cancellation);
        Assert.Contains("there is no dialect", Assert.Single(Assert.IsType<Outcome<ControllerLink>.Bad>(refused).Problems).What);
        Assert.Empty(bench.Opened);
    }

    [Fact]
    public async Task A_dialect_of_ones_own_is_read_from_its_file_and_every_problem_is_told_with_its_place()
    {
        var paper = new Paper();
        paper.Files["own.yaml"] = ShippedDialects.Text("numbered-settings").Replace("name: numbered-settings", "name: my-own", StringComparison.Ordinal);
        paper.Files["bad.yaml"] = paper.Files["own.yaml"].Replace("baud: 115200", "baud: fast", StringComparison.Ordinal);
        var connect = new ConnectController(new Bench("numbered-settings"), paper, TimeProvider.System);
        await using var link = (await connect.RunAsync(new("port", "own.yaml"), null, Cancellation)).Require();
        Assert.Equal("my-own", link.Dialect.Name);
        var problem = Assert.Single(Assert.IsType<Outcome<Dialect>.Bad>(connect.Dialect("bad.yaml")).Problems);
        Assert.Equal(("bad.yaml", 7L), (problem.File, problem.Line!.Value));
    }

    [Fact]
    public async Task What_is_recorded_is_a_script_that_plays_again()
    {
        var paper = new Paper();
        var connect = new ConnectController(new Bench("numbered-settings"), paper, TimeProvider.System);
        await using (var link = (await connect.RunAsync(new("port", "numbered-settings", null, "script.txt"), null, Cancellation)).Require())
            (await link.SettingsAsync(Cancellation)).Require();
        Assert.StartsWith("commission.dialogue/1\n", paper.Files["script.txt"], StringComparison.Ordinal);
        Assert.Contains("\n> $$\\x0A\n", paper.Files["script.txt"]);
    }

    /// <summary>The folder is missing from the beginning, or the medium is full at the end.</summary>
    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    public async Task A_record_that_cannot_be_written_is_told_once_with_its_place_and_remedy_and_the_link_goes_on(int written)
    {
        var told = new List<Problem>();
        var connect = new ConnectController(new Bench("numbered-settings"), new Paper { Refuses = written }, TimeProvider.System, told.Add);
        await using (var link = (await connect.RunAsync(new("port", "numbered-settings", null, "script.txt"), null, Cancellation)).Require())
        {
            Assert.Equal(1 - written, told.Count);
            (await link.SettingsAsync(Cancellation)).Require();
        }

        var problem = Assert.Single(told);
        Assert.Equal(("script.txt", "the dialogue is not recorded: the file cannot be written: this user may not"), (problem.File, problem.What));
        Assert.NotEmpty(problem.Remedy);
    }

    [Fact]
    public async Task The_same_machine_is_recognized_and_another_one_keeps_the_gate_shut()
    {
        using var journal = new MemoryJournal(StoreNature.Real, "s", "test", TimeProvider.System);
        await using var bench = await LinkBench.OpenAsync("numbered-settings", identified: false);
        await bench.UntilAsync(now => now.Gate.Report is not null);
        var identify = new IdentifyController(bench.Link, journal, "Heron");
        Assert.Equal(new Identity(null, null), (await identify.RunAsync(Cancellation)).Require());
        Assert.True(bench.Link.Now.Gate.IdentityConfirmed);

        var settings = (await bench.Link.SettingsAsync(Cancellation)).Require();
        journal.Append(new EntryBody.SettingsSaved("numbered-settings", settings) { Machine = "Heron" }).Require();
        bench.Link.TellIdentity(false);
        foreach (var key in new[] { "100", "101" })
            bench.Wire.Do(board => board.ChangedElsewhere(key, "80.000"));
        var doubt = (await identify.RunAsync(Cancellation)).Require().Doubt;
        Assert.Contains("X and Y", doubt);
        Assert.False(bench.Link.Now.Gate.IdentityConfirmed);
    }

    [Fact]
    public async Task A_write_that_was_interrupted_is_noticed_on_the_next_connection()
    {
        using var journal = new MemoryJournal(StoreNature.Real, "s", "test", TimeProvider.System);
        journal.Append(new EntryBody.SettingWritten { Machine = "Heron", Key = "101", Name = "stepsPerMm", Axis = "Y", Before = 320, After = 319.6, Stage = "intended" }).Require();
        await using var bench = await LinkBench.OpenAsync("numbered-settings", identified: false);
        await bench.UntilAsync(now => now.Gate.Report is not null);
        Assert.Contains("shows the old value", (await new IdentifyController(bench.Link, journal, "Heron").RunAsync(Cancellation)).Require().Interrupted);
    }
}
