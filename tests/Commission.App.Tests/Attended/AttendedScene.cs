using System.Diagnostics;
using System.Runtime.Versioning;
using Commission.Adapters.Storage;
using Commission.Core.Procedures;
using Commission.Practice.Bench;
using Commission.Practice.Controller;
using Commission.Practice.Machines;
using Commission.Workshop.Requests;

namespace Commission.App.Tests.Attended;

/// <summary>A machine, its controller, its person and its store.</summary>
[UnsupportedOSPlatform("windows")]
internal sealed class AttendedScene : IDisposable
{
    private readonly string store;
    private readonly string id;
    private readonly AxisName? axis;
    private readonly StringWriter errors = new();

    public AttendedScene(string folder, string id, AxisName? axis, Func<AttendedPerson, string, bool>? instead = null, bool ready = true, bool switches = true, string? open = null)
    {
        (this.id, this.axis) = (id, axis);
        store = Path.Combine(folder, Guid.NewGuid().ToString("N"));
        Board = new Board(scale: 300, body: new ControllerBody([420, 580, 90], [200, 300, 60]) { HomesLow = new HashSet<AxisName> { AxisName.X, AxisName.Y }, Switched = switches });
        Bench = PracticeBench.Heron(7);
        AttendedPerson? person = null;
        Person = person = new AttendedPerson(Bench, Board, Shipped().First(p => p.Id == id), axis) { Instead = instead is null ? null : prompt => instead(person!, prompt) };
        using var journal = new Stores("test", TimeProvider.System).Open(store, StoreNature.Real, write: true).Require();
        var machine = HeronMachine.Description;
        if (!switches)
            machine = machine with { X = Without(machine.X, HomeEnd.Low), Y = Without(machine.Y, HomeEnd.Low), Z = Without(machine.Z, HomeEnd.High) };
        journal.Append(new EntryBody.MachineDescribed(machine, false) { Machine = "Heron" }).Require();
        journal.Append(new EntryBody.InstrumentDescribed(Some("caliper 150", Core.Instruments.InstrumentKind.CaliperDigital, Bench.Caliper), false)).Require();
        journal.Append(new EntryBody.InstrumentDescribed(Some("indicator", Core.Instruments.InstrumentKind.Indicator, Bench.Indicator), false)).Require();
        foreach (var check in ready ? Ready.Where(check => open?.Contains(check.Check, StringComparison.Ordinal) != true) : [])
            journal.Append(new EntryBody.Checked { Machine = "Heron", Check = check.Check, Step = check.Step, Typed = "yes", Limit = "yes", Passed = true }).Require();
    }

    /// <summary>The procedures that are carried in the program.</summary>
    public static IEnumerable<Procedure> Shipped() =>
        new ProcedureLibrary(new Adapters.Files.ProcedureTexts(Path.Combine(Path.GetTempPath(), "no-procedures")), new Adapters.Files.TextFiles()).All().Entries.Select(entry => entry.Procedure);

    /// <summary>A port that is named in place of the board's, by a person at a terminal; null for the board's.</summary>
    public string? Named { get; init; }

    public Board Board { get; }

    public PracticeBench Bench { get; }

    public AttendedPerson Person { get; }

    public string Errors => errors.ToString();

    private static (string Check, string Step)[] Ready { get; } =
    [
        .. new[] { "P05", "P06", "P07", "P08", "P22", "P30", "P27" }.Select(check => (check, check)),
        ("P25", "p25-x"), ("P25", "p25-y"), ("P25", "p25-z"),
    ];

    /// <summary>Runs it in this process.</summary>
    public Task<int> RunAsync(params string[] more)
    {
        var here = new App.CommandLine.Surroundings { In = Person.Keyboard, Out = Person, Error = errors, DefaultStore = store, InputIsTerminal = Named is not null };
        return Composition.Compose(here).RunAsync(Arguments(more), TestContext.Current.CancellationToken);
    }

    /// <summary>The bench by question and answer, in this process.</summary>
    public Task<int> BenchAsync()
    {
        var here = new App.CommandLine.Surroundings { In = Person.Keyboard, Out = Person, Error = errors, DefaultStore = store };
        return Composition.Compose(here).RunAsync(["--plain", "--store", store], TestContext.Current.CancellationToken);
    }

    /// <summary>How to run it in a process of its own.</summary>
    public ProcessStartInfo Started(params string[] more) => new(Path.Combine(AppContext.BaseDirectory, "commission"), Arguments(more))
    {
        RedirectStandardInput = true,
        RedirectStandardOutput = true,
    };

    private string[] Arguments(string[] more)
    {
        string[] axes = axis is { } name ? ["--axis", name.ToString()] : [];
        return ["procedure", "run", id, "--store", store, "--plain", .. axes, .. Board.Options.Select((word, i) => i == 1 && Named is not null ? Named : word), .. more];
    }

    public IReadOnlyList<JournalEntry> Entries()
    {
        using var journal = new Stores("test", TimeProvider.System).Open(store, StoreNature.Real, write: false).Require();
        return [.. journal.Entries()];
    }

    private static AxisDescription Without(AxisDescription axis, HomeEnd corner) => axis with { Switches = Switches.None, HomeAt = corner };

    private static Core.Instruments.Instrument Some(string name, Core.Instruments.InstrumentKind kind, Practice.Instruments.PracticeInstrument like) =>
        new(name, kind, like.LimitMm, like.ResolutionMm, like.RangeMm, "invented");

    public void Dispose()
    {
        Board.Dispose();
        errors.Dispose();
    }
}
