using Commission.Practice.Draws;

namespace Commission.Practice.Instruments;

/// <summary>An instrument of the simulated operator, with the error it really has.</summary>
public sealed record PracticeInstrument
{
    /// <summary>The operator's name for it.</summary>
    public required string Name { get; init; }

    /// <summary>Limit of error that stands in its papers, mm.</summary>
    public required double LimitMm { get; init; }

    /// <summary>Last digit, mm.</summary>
    public required double ResolutionMm { get; init; }

    /// <summary>Range, mm.</summary>
    public required double RangeMm { get; init; }

    /// <summary>Its error, drawn once.</summary>
    public required ErrorCurve Error { get; init; }

    /// <summary>Constant that readings between outside walls have more than others (inside jaws), mm.</summary>
    public double InsideOffsetMm { get; init; }

    /// <summary>Constant of readings from the hook, mm.</summary>
    public double HookMm { get; init; }

    /// <summary>Standard deviation that one reading has because of the instrument alone, mm.</summary>
    public double OwnScatterMm { get; init; }

    /// <summary>A digital caliper of 150 mm with a limit of 0.03 mm, the longest reading near 146 mm.</summary>
    public static PracticeInstrument Caliper(DrawSource source) => new()
    {
        Name = "caliper-150",
        LimitMm = 0.03,
        ResolutionMm = 0.01,
        RangeMm = 150,
        Error = ErrorCurve.WithinLimit(source, 0.03, 150),
        InsideOffsetMm = source.NextUniform(-0.02, 0.02),
        OwnScatterMm = 0.003,
    };

    /// <summary>A dial indicator of 10 mm range: over short ways its error is one tenth of a turn's.</summary>
    public static PracticeInstrument Indicator(DrawSource source) => new()
    {
        Name = "indicator",
        LimitMm = 0.005,
        ResolutionMm = 0.001,
        RangeMm = 10,
        Error = ErrorCurve.WithinLimit(source, 0.015, 10),
        OwnScatterMm = 0.002,
    };

    /// <summary>A tape of accuracy class II: 0.3 mm and 0.2 mm for each metre.</summary>
    public static PracticeInstrument Tape(DrawSource source) => new()
    {
        Name = "tape",
        LimitMm = 0.5,
        ResolutionMm = 0.1,
        RangeMm = 3000,
        Error = ErrorCurve.WithinLimit(source, 0.5, 1000),
        HookMm = source.NextUniform(-0.3, 0.3),
        OwnScatterMm = 0,
    };
}
