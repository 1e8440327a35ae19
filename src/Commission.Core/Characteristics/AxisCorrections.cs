using Commission.Core.Instruments;
using Commission.Core.Machines;

namespace Commission.Core.Characteristics;

/// <summary>Known influences on a measured scale error: what each adds to the value, and how uncertain that is.</summary>
/// <param name="Value">Correction, added to the scale error.</param>
/// <param name="Parts">One contribution for each influence.</param>
/// <param name="Remarks">What was corrected, in words.</param>
internal sealed record AxisCorrections(double Value, IReadOnlyList<UncertaintyPart> Parts, IReadOnlyList<string> Remarks)
{
    // Tilt of caliper jaws, each of two planes, standard deviation 0.3 degrees: common practice, no source.
    private const double TiltRadians = .3 * Math.PI / 180;

    // Handbook values with their usual limits: shared/reference/facts/thermal_expansion.csv.
    private const double Steel = 11.5e-6;
    private const double ExpansionHalfWidth = 1e-6;
    private const double ThermometerHalfWidth = 1;

    // Half width of the carriage's tilt along the travel, rad: common practice, no source.
    private const double TiltOfCarriage = 1e-4;

    public static AxisCorrections Of(AxisReadings readings, FitOptions options)
    {
        var parts = new List<UncertaintyPart>();
        var remarks = new List<string>();
        var value = 0.0;
        if (options.Instrument?.Kind is InstrumentKind.CaliperDigital or InstrumentKind.CaliperVernier)
        {
            // Tilted jaws read long. With two planes the excess has mean sigma^2 and standard deviation sigma^2.
            const double excess = TiltRadians * TiltRadians;
            value -= excess;
            parts.Add(new UncertaintyPart("tilt of the jaws", excess) { RepeatingHelps = true });
            remarks.Add("27 ppm were taken off for jaws that are never quite square to the length.");
        }

        if (options.TemperaturesC is { } given)
        {
            var machine = options.Drive == DriveKind.Belt ? 0 : Steel;
            double machineAbove = given.Machine - 20, instrumentAbove = given.Instrument - 20;
            value += (Steel * instrumentAbove) - (machine * machineAbove);
            parts.Add(new UncertaintyPart("temperatures of drive and instrument", Steel * ThermometerHalfWidth / Math.Sqrt(3)) { Rectangular = true });
            parts.Add(new UncertaintyPart("expansion coefficients", Math.Max(Math.Abs(machineAbove), Math.Abs(instrumentAbove)) * ExpansionHalfWidth / Math.Sqrt(3)) { Rectangular = true });
            remarks.Add(options.Drive == DriveKind.Belt
                ? "The instrument was corrected to 20 degrees C as steel; the belt was not corrected."
                : "Drive and instrument were corrected to 20 degrees C as steel.");
        }

        if (options.Numbers.GetValueOrDefault("abbe-mm") is > 0 and var offset)
        {
            var span = readings.HighestCommanded - readings.LowestCommanded;
            parts.Add(new UncertaintyPart("tilt over the distance between scale and measuring line", offset * TiltOfCarriage / (Math.Sqrt(3) * span)) { Rectangular = true });
            remarks.Add("The scale of the instrument does not lie in the line that was measured: what a tilt of 0.1 mrad does over that distance is counted in.");
        }

        if (Quantisation(readings, options) is { } steps) parts.Add(steps);
        return new AxisCorrections(value, parts, remarks);
    }

    // A position that is no whole number of steps is rounded by the controller, within half a step either way.
    private static UncertaintyPart? Quantisation(AxisReadings readings, FitOptions options)
    {
        if (options.StepsPerMm is not { } k) return null;
        var targets = readings.Rows.Select(row => row.Commanded).Distinct().ToArray();
        if (targets.All(c => Math.Abs((c * k) - Math.Round(c * k)) < 1e-6 * Math.Max(1, Math.Abs(c * k)))) return null;
        var mean = targets.Average();
        var spread = Math.Sqrt(targets.Sum(c => (c - mean) * (c - mean)));
        return new UncertaintyPart("positions rounded to whole steps", 1 / (k * Math.Sqrt(12) * spread));
    }
}
