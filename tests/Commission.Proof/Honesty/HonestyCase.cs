using System.Collections.Immutable;
using Commission.Core.Instruments;
using Commission.Core.Readings;
using Commission.Practice.Bench;
using Commission.Practice.Draws;
using Commission.Practice.Instruments;
using Commission.Practice.Machines;
using Commission.Practice.Operators;

namespace Commission.Proof.Honesty;

/// <summary>One characteristic measured again and again on machines drawn from the declared assumptions.</summary>
internal sealed record HonestyCase
{
    /// <summary>Id of the kind.</summary>
    public required string Kind { get; init; }

    /// <summary>Name of the column that is read.</summary>
    public required string Column { get; init; }

    /// <summary>The places of the test.</summary>
    public required ImmutableArray<Cell> Cells { get; init; }

    /// <summary>Parameters whose U must hold the truth; the first is the headline.</summary>
    public required ImmutableArray<string> Parameters { get; init; }

    /// <summary>Which instrument reads.</summary>
    public required Func<PracticeBench, PracticeInstrument> Instrument { get; init; }

    /// <summary>Kind of that instrument.</summary>
    public required InstrumentKind InstrumentKind { get; init; }

    /// <summary>Standard deviation of one reading that the study estimates, mm, without rounding.</summary>
    public required Func<Hand, double> HandSd { get; init; }

    /// <summary>Options beside instrument and hand.</summary>
    public FitOptions Options { get; init; } = new();

    /// <summary>Changes the drawn machine, so that its assumptions are those declared.</summary>
    public Func<MachineState, DrawSource, MachineState> Changed { get; init; } = (state, _) => state;

    /// <summary>What goes wrong with the readings after they are taken; nothing where the declared assumptions hold.</summary>
    public Func<ReadingTable, DrawSource, ReadingTable> Spoil { get; init; } = (readings, _) => readings;

    /// <summary>Largest error of the instruments in multiples of their limit, lowest and highest; the declared one is uniform up to the limit.</summary>
    public (double Least, double Most) OfLimit { get; init; } = (0, 1);

    /// <summary>One run.</summary>
    public HonestyRun Run(CharacteristicKind kind, DrawSource source, Func<MachineState, MachineState>? force = null, Tolerance? tolerance = null)
    {
        var (bench, table, options) = Draw(source, force);
        return new HonestyRun(bench, kind.Evaluate(table, options with { Tolerance = tolerance }));
    }

    /// <summary>A machine, its readings and what the fit is told.</summary>
    public (PracticeBench Bench, ReadingTable Readings, FitOptions Options) Draw(DrawSource source, Func<MachineState, MachineState>? force = null)
    {
        var seed = source.NextBits();
        var heron = PracticeMachine.Heron(seed);
        var declared = Declared(heron.State);
        var state = Changed(declared, source.For("draw"));
        var machine = heron with { State = force is null ? state : force(state) };
        var bench = new PracticeBench(machine, _hand, seed, DeclaredInstruments(machine, seed, source.For("instruments")));
        var table = Spoil(Read(bench), source.For("spoilt"));
        return (bench, table, Options with { Instrument = Described(Instrument(bench)), Hand = Study(bench, source.For("study")) });
    }

    private static readonly Hand _hand = Hand.Steady with { JawTiltDeg = 0 };

    /// <summary>The declared error of an instrument: one draw of scale, uniform within the limit at the longest reading of the set.</summary>
    private InstrumentSet DeclaredInstruments(PracticeMachine machine, ulong seed, DrawSource source)
    {
        var trial = new PracticeBench(machine, _hand, seed);
        var longest = Cells.Max(cell => Math.Abs(double.Parse(trial.Read(cell), CultureInfo.InvariantCulture)));
        PracticeInstrument Declared(PracticeInstrument instrument) => instrument with
        {
            Error = OfLimit == (0, 1)
                ? ErrorCurve.WithinLimit(source, instrument.LimitMm, longest)
                : new ErrorCurve(source.NextSign() * instrument.LimitMm * source.NextUniform(OfLimit.Least, OfLimit.Most), longest),
            InsideOffsetMm = source.NextUniform(-0.02, 0.02),
        };
        return new InstrumentSet(Declared(trial.Caliper), Declared(trial.Indicator), Declared(trial.Tape));
    }

    /// <summary>What the fits declare: one window, one temperature, marks that come back.</summary>
    private static MachineState Declared(MachineState state) => state with
    {
        DriveWarmerK = 0,
        X = Plain(state.X),
        Y = Plain(state.Y),
        Z = Plain(state.Z),
    };

    private static AxisState Plain(AxisState axis) => axis with { SlowWaveMm = 0, WearShare = 0, RepeatabilityMm = 0 };

    private ReadingTable Read(PracticeBench bench) => new()
    {
        Source = "proof",
        Columns = [.. Cells[0].Given.Keys.Concat(Cells[0].Words.Keys).Append(Column).Distinct()],
        Rows = [.. Cells.Select((cell, i) => Row(cell, i + 1, bench.Read(cell)))],
    };

    private ReadingRow Row(Cell cell, int number, string typed) => new()
    {
        Number = number,
        Numbers = cell.Given.ToImmutableDictionary().SetItem(Column, double.Parse(typed, CultureInfo.InvariantCulture)),
        Words = cell.Words.ToImmutableDictionary(),
        Typed = ImmutableDictionary<string, string>.Empty.Add(Column, typed),
    };

    private Instrument Described(PracticeInstrument instrument) => new(
        instrument.Name, InstrumentKind, instrument.LimitMm, instrument.ResolutionMm, instrument.RangeMm, "practice");

    private HandStudy Study(PracticeBench bench, DrawSource source)
    {
        const int freedom = 14;
        var instrument = Instrument(bench);
        var (hand, digit) = (HandSd(bench.Operator.Hand), instrument.ResolutionMm);
        var sd = Math.Sqrt((hand * hand) + (instrument.OwnScatterMm * instrument.OwnScatterMm) + (digit * digit / 12));
        var chi = 0.0;
        for (var i = 0; i < freedom; i++)
        {
            var z = source.NextNormal();
            chi += z * z;
        }

        return new HandStudy("steady", instrument.Name, sd * Math.Sqrt(chi / freedom), freedom);
    }
}

/// <summary>What one run gave.</summary>
internal sealed record HonestyRun(PracticeBench Bench, Core.Outcome<Finding> Outcome)
{
    /// <summary>Error of a found parameter and its U; null where there is no U or no truth.</summary>
    public (double Error, double Half)? Of(string kind, AxisName? axis, string parameter)
    {
        if (Outcome is not Core.Outcome<Finding>.Good(var finding))
            return null;
        var found = finding.Parameter(parameter);
        return found is { Value: { } value, ExpandedUncertainty: { } half } && Bench.TrueValue(kind, axis, parameter) is { } truth
            ? (value - truth, half)
            : null;
    }
}
