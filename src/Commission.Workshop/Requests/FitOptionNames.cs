using System.Collections.Immutable;
using Commission.Core.Characteristics;

namespace Commission.Workshop.Requests;

/// <summary>The options every fit takes, by name; a kind declares its own beside them.</summary>
public static class FitOptionNames
{
    /// <summary>Options that all kinds share, in the order of the help.</summary>
    public static ImmutableArray<OptionSpec> Shared { get; } =
    [
        new("axis", false, "X, Y or Z"),
        new("steps-per-mm", true, "The ratio in the controller now, steps for one mm"),
        new("steps-per-inch", true, "The same, steps for one inch"),
        new("travel-per-turn-mm", true, "Travel for one turn of the screw, pulley or pinion, mm"),
        new("lead-mm", true, "The same, for screws"),
        new("screw-grade", true, "Grade of the screw: 0 1 3 5 7 9 10"),
        new("prior-ppm", true, "Standard uncertainty of the drive's own scale, ppm"),
        new("instrument", false, "Name of an instrument of the store or of the catalogue"),
        new("instrument-limit-mm", true, "Limit of error of the instrument, mm"),
        new("resolution-mm", true, "Last digit of the instrument, mm"),
        new("operator-sd-mm", true, "Standard deviation of one reading by this hand, mm"),
        new("operator-dof", true, "Degrees of freedom of that standard deviation"),
        new("travel-mm", true, "Length that a job uses, mm"),
        new("tolerance", false, "The limit with its unit: 300ppm 0.5mm/m 0.1mm 0.004in"),
        new("coverage", true, "Coverage probability of U, 0.95 where not told"),
        new("sequential", false, "The readings were looked at while they came in: the verdict takes the wider limit of 2.6") { IsFlag = true },
        new("machine-temperature-c", true, "Temperature of the machine, degrees C"),
        new("instrument-temperature-c", true, "Temperature of the instrument, degrees C"),
    ];
}
