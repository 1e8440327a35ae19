using Commission.Core;
using Commission.Core.History;
using Commission.Core.Machines.Dialects;
using Commission.Core.Motion;

namespace Commission.Workshop.Controllers;

/// <content>Writing a setting: what is known of it afterwards is said line by line.</content>
public sealed partial class ControllerLink
{
    private const string SeeWhatItHolds = "Save all settings and compare before anything moves";

    private async Task<Outcome<SavedSetting>> WriteAndReadBackAsync(DialectSetting setting, string value)
    {
        var what = setting.To(value);
        if (Now is not { State: ControllerState.Resting or ControllerState.Locked } now || now.Gate.State == TrustState.Moving)
            return new Problem($"{what}: not sent, settings are written only at rest", "Wait until the machine rests");
        var line = Dialect.Settings.Write.Replace("{key}", setting.Key, StringComparison.Ordinal).Replace("{value}", value, StringComparison.Ordinal);
        if (Dialect.TooLong(line) is { } tooLong)
            return new Problem($"{what}: not sent, nothing is written: {tooLong}", "Give the value with fewer digits, or correct longestLine in the dialect's file");
        Feed(at => new GateEvent.TrustLost(at, SettingWritten));
        if (await LineAsync(line, TimeSpan.MaxValue, writer.Epoch, AnswerTime).ConfigureAwait(false) is var written and not LineResult.Taken)
            return Unwritten(what, written);
        if (Dialect.Settings.Store is { } store && await LineAsync(store, TimeSpan.MaxValue, writer.Epoch, AnswerTime).ConfigureAwait(false) is var stored and not LineResult.Taken)
            return Unstored(what, stored);
        return (await ListAsync().ConfigureAwait(false)).Match<Outcome<SavedSetting>>(
            settings => settings.FirstOrDefault(one => one.Key == setting.Key) is { } read ? read
                : new Problem($"{what}: written, not read back (the controller no longer lists it)", SeeWhatItHolds),
            problems => new Problem($"{what}: written, not read back ({problems[0].What})", SeeWhatItHolds));
    }

    private Problem Unwritten(string what, LineResult result) => result switch
    {
        LineResult.Refused refused => new($"{what}: sent and refused, not written ({Refusal(refused.Code)})", "Bring the controller to rest and try again"),
        LineResult.Unanswered unanswered => new($"{what}: sent and not answered, it may or may not be written ({unanswered.Why})", SeeWhatItHolds),
        LineResult.NotSent { Fate: Fate.Broken } => new($"{what}: begun and not ended, it may or may not be written (the port failed)", SeeWhatItHolds),
        _ => new($"{what}: not sent, nothing is written", "Try again"),
    };

    private Problem Unstored(string what, LineResult result) => new(
        result switch
        {
            LineResult.Refused refused => $"{what}: written, but not stored for the next power-up: {Refusal(refused.Code)}",
            LineResult.Unanswered or LineResult.NotSent { Fate: Fate.Broken } => $"{what}: written; the line that stores it was not answered, it may be gone after the next power-up",
            _ => $"{what}: written; the line that stores it was not sent, it is gone after the next power-up",
        },
        SeeWhatItHolds);
}
