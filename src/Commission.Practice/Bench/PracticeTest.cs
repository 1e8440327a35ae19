using Commission.Core.Machines;
using Commission.Practice.Draws;
using Commission.Practice.Instruments;
using Commission.Practice.Machines;
using Commission.Practice.Operators;

namespace Commission.Practice.Bench;

/// <summary>The instruments of a person.</summary>
/// <param name="Caliper">The caliper.</param>
/// <param name="Indicator">The indicator.</param>
/// <param name="Tape">The tape.</param>
public sealed record InstrumentSet(PracticeInstrument Caliper, PracticeInstrument Indicator, PracticeInstrument Tape)
{
    /// <summary>One of each, with errors of their own.</summary>
    public static InstrumentSet Draw(DrawSource source) => new(
        PracticeInstrument.Caliper(source.For("caliper")), PracticeInstrument.Indicator(source.For("indicator")),
        PracticeInstrument.Tape(source.For("tape")));
}

/// <summary>What stands around a test: machine, person, instruments, and chance for what the machine itself scatters.</summary>
public sealed record Surroundings(
    PracticeMachine Machine, PracticeOperator Operator, InstrumentSet Instruments, DrawSource Chance)
{
    /// <summary>The caliper.</summary>
    public PracticeInstrument Caliper => Instruments.Caliper;

    /// <summary>The indicator.</summary>
    public PracticeInstrument Indicator => Instruments.Indicator;

    /// <summary>The tape.</summary>
    public PracticeInstrument Tape => Instruments.Tape;

    /// <summary>Where an axis stands this time, its scatter of coming back included.</summary>
    public double Stand(AxisName axis, double commandedMm, int from) =>
        Machine.AxisPosition(axis, commandedMm, from) + (Machine.State[axis].RepeatabilityMm * Chance.NextNormal());
}

/// <summary>How the simulated operator carries out one kind of test, and what the machine is really like where it was tested.</summary>
public abstract class PracticeTest
{
    private readonly List<Cell> _cells = [];

    /// <summary>Id of the kind of characteristic.</summary>
    public abstract string Characteristic { get; }

    /// <summary>The cells read so far: truth is asked for the window that was measured.</summary>
    protected IReadOnlyList<Cell> Cells => _cells;

    /// <summary>Sets up for the cells that are to come: where blocks and stands go.</summary>
    public virtual void Prepare(Surroundings around, IReadOnlyList<Cell> cells)
    {
    }

    /// <summary>Takes the reading of a cell and types it.</summary>
    public string Read(Surroundings around, Cell cell)
    {
        _cells.Add(cell);
        return Take(around, cell);
    }

    /// <summary>The true value of a parameter, in the unit of the contract; null where the machine has none of that name.</summary>
    public abstract double? Truth(Surroundings around, AxisName? axis, string parameter);

    /// <summary>Takes and types the reading.</summary>
    protected abstract string Take(Surroundings around, Cell cell);

    /// <summary>A number in brackets of a parameter's name, as in <c>tir[20]</c>; null where there is none.</summary>
    protected static double? Bracket(string parameter, string name) =>
        parameter.StartsWith(name + "[", StringComparison.Ordinal) && parameter.EndsWith(']')
        && double.TryParse(parameter.AsSpan(name.Length + 1, parameter.Length - name.Length - 2),
            System.Globalization.NumberStyles.Float, System.Globalization.CultureInfo.InvariantCulture, out var value) ? value : null;
}
