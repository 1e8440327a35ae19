using System.Collections.Immutable;

namespace Commission.Core.Procedures;

/// <summary>A number whose sign is odd.</summary>
/// <param name="Reason">What is odd about it, a clause.</param>
/// <param name="Suggestion">What it may have meant, in the unit asked for.</param>
public sealed record SignNotice(string Reason, double Suggestion);

/// <summary>Looks whether what was typed can have its sign: lengths, resistances, times and the like are not below zero.</summary>
public static class SignWatch
{
    // A dial or a squareness has a sign; these have none.
    private static readonly ImmutableHashSet<string> Lengths = ["measured_mm", "distance_mm", "diameter_mm"];

    // What is read at the zero itself scatters to both sides of it (our choice).
    private const double AroundZeroMm = 0.5;

    // A temperature may lie below zero, a slope leans either way.
    private static readonly ImmutableHashSet<string> Signed = ["degC", "mm", "mm/m"];

    /// <summary>A notice about a reading: a length below zero. Where one was kept as it is the zero lies elsewhere, and none is asked about any more.</summary>
    /// <param name="run">The run with the reading in it.</param>
    /// <param name="reading">The reading.</param>
    public static SlipNotice? About(ProcedureRun run, TakenReading reading)
    {
        if (!(reading.Value < -AroundZeroMm) || !Lengths.Contains(reading.Column) || run.ReadsTheSame(reading, 0))
            return null;
        return run.Readings.Any(one => one.Step == reading.Step && one is { Stands: true, KeptThoughQuestioned: true, Value: < 0 }) ? null
            : new SlipNotice($"{PlainText.Of(reading.Typed).Replace(',', '.')} is below zero, and a length is not", InstrumentWatch.CanShow(run, reading, -reading.Value) ? -reading.Value : null, reading.Sequence);
    }

    /// <summary>A notice about a number that is no reading: what its limits and its unit leave no room for below zero. Null where it may be so.</summary>
    /// <param name="run">The run as it asks for the number.</param>
    /// <param name="value">The number, in the unit asked for.</param>
    public static SignNotice? About(ProcedureRun run, double value) => value < 0 && run.Current?.Step switch
    {
        Step.Set => true,
        Step.Check { Answer: CheckAnswer.Number number } check => !MayBeNegative(check.Limits, number.Unit),
        _ => false,
    }
        ? new SignNotice("it is below zero, which cannot be here", -value) : null;

    // Who sets a limit below zero expects a sign; an upper limit alone is one for a size.
    private static bool MayBeNegative(ImmutableArray<Limit> limits, string unit) => unit == "degC" || (limits.IsEmpty ? Signed.Contains(unit)
        : limits.Any(limit => limit is Limit.Near or Limit.Between { Low: < 0 } or Limit.AtLeast { Least.Number: < 0 } or Limit.AtMost { Most.Number: < 0 }));
}
