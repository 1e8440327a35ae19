using Commission.Core.Machines;
using Commission.Practice.Draws;
using Commission.Practice.Instruments;
using Commission.Practice.Machines;
using Commission.Practice.Operators;

namespace Commission.Practice.Bench;

/// <summary>A practice machine on its bench: a person with instruments who can be asked for readings, and the truth to hold them against.</summary>
public sealed class PracticeBench
{
    private readonly DrawSource _chance;
    private readonly Dictionary<string, PracticeTest> _tests = NewTests();

    /// <summary>A machine, a person and their instruments from one seed.</summary>
    /// <param name="machine">The machine.</param>
    /// <param name="hand">The person's habits.</param>
    /// <param name="seed">Seed of everything that scatters.</param>
    /// <param name="instruments">The instruments; null draws them.</param>
    public PracticeBench(PracticeMachine machine, Hand hand, ulong seed, InstrumentSet? instruments = null)
    {
        var source = new DrawSource(seed).For("bench");
        _chance = source.For("scatter");
        Machine = machine;
        Operator = new PracticeOperator(hand, SlipHabits.Usual, source.For("hand"));
        Instruments = instruments ?? InstrumentSet.Draw(source);
    }

    /// <summary>Heron with a steady hand.</summary>
    public static PracticeBench Heron(ulong seed) => new(PracticeMachine.Heron(seed), Hand.Steady, seed);

    /// <summary>The machine with its present settings.</summary>
    public PracticeMachine Machine { get; private set; }

    /// <summary>The person.</summary>
    public PracticeOperator Operator { get; }

    /// <summary>The instruments.</summary>
    public InstrumentSet Instruments { get; }

    /// <summary>The caliper.</summary>
    public PracticeInstrument Caliper => Instruments.Caliper;

    /// <summary>The indicator.</summary>
    public PracticeInstrument Indicator => Instruments.Indicator;

    /// <summary>The tape.</summary>
    public PracticeInstrument Tape => Instruments.Tape;

    /// <summary>Changes what is set in the controller; what is true from now on follows from it.</summary>
    public void Set(PracticeSettings settings) => Machine = Machine with { Settings = settings };

    /// <summary>Works on the machine itself: shims, a turned gantry, a surfaced bed.</summary>
    public void Rework(Func<MachineState, MachineState> work) => Machine = Machine with { State = work(Machine.State) };

    /// <summary>Begins a test anew: marks are made again, blocks and indicators set up again.</summary>
    public void Begin(string characteristic)
    {
        if (NewTests().TryGetValue(characteristic, out var test))
            _tests[characteristic] = test;
    }

    /// <summary>Sets a test up for the cells of its plan; without it, blocks stand where position and reading are nearly the same.</summary>
    public void Prepare(IReadOnlyList<Cell> cells)
    {
        if (cells.Count > 0 && _tests.TryGetValue(cells[0].Characteristic, out var test))
            test.Prepare(Around, cells);
    }

    /// <summary>Whether the person knows how to take readings of this kind.</summary>
    public bool Knows(string characteristic) => _tests.ContainsKey(characteristic);

    /// <summary>Takes the reading of a cell; the text is what the person types.</summary>
    public string Read(Cell cell) => _tests[cell.Characteristic].Read(Around, cell);

    /// <summary>True value of a parameter where it was measured, in the unit of the contract; null where it has none.</summary>
    public double? TrueValue(string characteristic, AxisName? axis, string parameter) =>
        _tests.TryGetValue(characteristic, out var test) ? test.Truth(Around, axis, parameter) : null;

    private Surroundings Around => new(Machine, Operator, Instruments, _chance);

    private static Dictionary<string, PracticeTest> NewTests() => new PracticeTest[]
    {
        new AxisScaleTest(), new BacklashTest(), new PeriodicTest(), new StiffnessTest(), new SpeedLadderTest(), new RepeatabilityTest(),
        new SquarenessTest(), new PlateTest(), new SquareReversalTest(), new TestCutTest(), new TestCircleTest(), new TramTest(),
        new FlatnessTest(), new RunoutTest(), new GaugeStudyTest(), new EventRateTest(),
        new RailWidthTest(), new ZSquareTest(AxisName.X), new ZSquareTest(AxisName.Y),
    }.ToDictionary(test => test.Characteristic);
}
