using Commission.Core.Machines;
using Commission.Practice.Draws;
using Commission.Practice.Instruments;
using Commission.Practice.Machines;
using Commission.Practice.Operators;

namespace Commission.Practice.Populations;

/// <summary>One home-built machine with its owner and the owner's instruments.</summary>
public sealed record PopulationDraw
{
    /// <summary>The machine as built, both axes with one kind of drive.</summary>
    public required PracticeMachine Machine { get; init; }

    /// <summary>What the owner knows of the drive.</summary>
    public required PopulationDrive Drive { get; init; }

    /// <summary>The owner's hand.</summary>
    public required Hand Hand { get; init; }

    /// <summary>The owner's caliper.</summary>
    public required PracticeInstrument Caliper { get; init; }

    /// <summary>The owner's tape.</summary>
    public required PracticeInstrument Tape { get; init; }

    /// <summary>Scatter of one drilled mark, mm.</summary>
    public required double MarkScatterMm { get; init; }

    /// <summary>Hole diameter as cut, mm.</summary>
    public required double HoleMm { get; init; }

    /// <summary>Factor of a wrong nominal ratio of X and Y; 1 where the ratio is right.</summary>
    public required (double X, double Y) WrongNominal { get; init; }

    /// <summary>Draws machine, owner and instruments. Nominal steps are 320 for one millimetre throughout: only ratios matter.</summary>
    public static PopulationDraw From(Population population, DrawSource source, int? drive = null, int? hand = null)
    {
        var chosen = population.Drives[drive ?? source.NextWeighted([.. population.Drives.Select(d => d.Share)])];
        var person = population.Hands[hand ?? source.NextWeighted([.. population.Hands.Select(h => h.Share)])].Hand;
        var wrong = WrongNominalOf(population, source);
        var (x, y) = (Axis(chosen, wrong.X, source, 600), Axis(chosen, wrong.Y, source, 800));
        var state = new MachineState
        {
            X = x,
            Y = y,
            Z = Axis(chosen, 1, source, 100),
            Frame = new FrameState(population.SquarenessMrad.Draw(source) * 1e-3, 0, 0, 0, 0),
            Spindle = new SpindleState(0, 0, 0, 0, 0, 0),
            Bed = new BedState(0, 0, 0, 0),
            DriveWarmerK = population.DriveWarmerK.Draw(source),
        };
        return new PopulationDraw
        {
            Machine = new PracticeMachine(HeronMachine.Description, state, HeronMachine.AsBuilt),
            Drive = chosen,
            Hand = person,
            Caliper = CaliperOf(population, source),
            Tape = TapeOf(population, source),
            MarkScatterMm = population.MarkScatterMm.Draw(source),
            HoleMm = population.HoleNominalMm + population.HoleExcessMm.Draw(source),
            WrongNominal = wrong,
        };
    }

    private static (double X, double Y) WrongNominalOf(Population population, DrawSource source)
    {
        if (!source.NextChance(population.WrongNominalShare))
            return (1, 1);
        var factors = population.WrongNominalFactors;
        var factor = factors[source.NextWeighted([.. factors.Select(f => f.Weight)])].Factor;
        if (source.NextChance(population.WrongNominalBothAxes))
            return (factor, factor);
        return source.NextSign() > 0 ? (factor, 1) : (1, factor);
    }

    private static AxisState Axis(PopulationDrive drive, double factor, DrawSource source, double travel) => new()
    {
        TravelMm = travel,
        TravelPerTurnMm = drive.PeriodMm,
        TrueStepsPerMm = HeronMachine.NominalStepsPerMm / (factor * (1 + (drive.ScaleErrorPpm.Draw(source) * 1e-6))),
        ClearanceMm = drive.LostMotionMm.Draw(source),
        PeriodicAmplitudeMm = drive.PeriodicAmplitudeMm.Draw(source),
        PeriodicPhaseRad = source.NextUniform(0, 2 * Math.PI),
        ExpansionPerK = drive.ExpansionPpmPerK * 1e-6,
    };

    private static PracticeInstrument CaliperOf(Population population, DrawSource source)
    {
        var range = population.CaliperRanges[source.NextWeighted([.. population.CaliperRanges.Select(r => r.Share)])].RangeMm;
        var largest = source.NextSign() * population.CaliperLimitMm * population.CaliperErrorInLimits.Draw(source);
        return new PracticeInstrument
        {
            Name = "caliper",
            LimitMm = population.CaliperLimitMm,
            ResolutionMm = population.CaliperResolutionMm,
            RangeMm = range,
            Error = new ErrorCurve(largest, range, source.NextUniform(0, 0.5), 1 + source.NextIndex(2), source.NextUniform(0, 2 * Math.PI)),
            InsideOffsetMm = population.InsideJawOffsetMm.Draw(source),
            OwnScatterMm = population.CaliperLocalSdMm,
        };
    }

    private static PracticeInstrument TapeOf(Population population, DrawSource source) => new()
    {
        Name = "tape",
        LimitMm = 0.5,
        ResolutionMm = 0.1,
        RangeMm = 3000,
        Error = new ErrorCurve(source.NextUniform(-1, 1) * population.TapeScaleHalfWidthPpm * 1e-3, 1000),
        HookMm = source.NextUniform(-1, 1) * population.TapeHookHalfWidthMm,
    };
}
