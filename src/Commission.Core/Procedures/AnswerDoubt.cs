using Commission.Core.Characteristics;
using static System.FormattableString;

namespace Commission.Core.Procedures;

/// <summary>What is odd about a number that answers a step: asked about before it is kept.</summary>
/// <param name="Reason">What is odd, a clause.</param>
/// <param name="Meant">What it may have meant, in the unit asked for; null where nothing is near.</param>
public sealed record AnswerDoubt(string Reason, double? Meant)
{
    /// <summary>The doubt about a number: its sign first, then what is known besides; null where there is none.</summary>
    /// <param name="run">The run as it asks for the number.</param>
    /// <param name="shown">The number as typed, fit to be shown.</param>
    /// <param name="given">The answer.</param>
    public static AnswerDoubt? About(ProcedureRun run, string shown, RunEvent.NumberGiven given) =>
        SignWatch.About(run, given.Value) is { } sign ? new($"{shown}: {sign.Reason}", sign.Suggestion)
        : run.NoRung(given) is { } none ? new(none, null)
        : run.Clash(given) is { } clash ? new(clash.Reason, run.Settling(clash)) : null;

    // Who was asked for one number sets that, the old one, or one between: three times the change that was proposed, and half a percent, leave room (our choice).
    private const double Changes = 3, Part = 0.005;

    /// <summary>The doubt about a value told as set, where another was proposed; null where it can be so.</summary>
    /// <param name="setting">The proposal.</param>
    /// <param name="shown">The value as typed, fit to be shown.</param>
    /// <param name="value">The value, in the unit of the setting.</param>
    public static AnswerDoubt? About(ProposedSetting setting, string shown, double value) =>
        Math.Abs(value - setting.AsStored) <= Math.Max(Changes * Math.Abs(setting.AsStored - setting.Current), Part * Math.Abs(setting.AsStored)) ? null
            : new(Invariant($"{shown} is far from {setting.AsStored:0.000###} (proposed) and {setting.Current:0.000###} (before)"), setting.AsStored);
}
