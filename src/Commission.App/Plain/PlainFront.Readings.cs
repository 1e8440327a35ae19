using System.Globalization;
using Commission.Core;
using Commission.Core.Procedures;
using Commission.Core.Quantities;
using Commission.Workshop.Sessions;

namespace Commission.App.Plain;

/// <content>Readings: where to, how they are taken, what is asked about one that looks like a slip.</content>
internal sealed partial class PlainFront
{
    private Outcome<ProcedureRun> Reading(ProcedureSession session, Need.TakeReading need)
    {
        var again = need.Again ? ", again" : "";
        // What stands in the way is told before the way.
        var where = (need.First.Length > 0 ? " " + OneLine(need.First) : "") + (need.Moves.IsEmpty ? "" : " " + WhereTo(need));
        var text = string.Create(CultureInfo.InvariantCulture, $"Reading {need.Index + 1} of {need.Of}{again}, {need.Cell.Place}.{where} {HowToRead(need)}");
        if (Prompt(session, "number", string.Create(CultureInfo.InvariantCulture, $"{need.Step}/{need.Index + 1}"), text) is not { } answer) return session.Run;
        if (Is(answer, "r")) return session.LastReading is { } last ? session.ReadAgain(last.Sequence) : new Problem("there is no reading yet", "Type the reading that is asked for");
        if (Shows is not null && (Is(answer, "v") || Is(answer, "t"))) return Looked(session, need, Shows(session.Run, need), Is(answer, "t"));
        if (answer.StartsWith("x ", StringComparison.OrdinalIgnoreCase))
            return session.LastReading is { } latest ? LeftOut(session, latest, Words.Clean(answer[2..])) : new Problem("there is no reading yet", "Type the reading that is asked for");
        return Taken(session, need, answer);
    }

    private Outcome<ProcedureRun> LeftOut(ProcedureSession session, TakenReading reading, string reason) => session.LeaveOut(reading.Sequence, reason).Then<ProcedureRun>(run =>
    {
        Say($"left out: {Value(session, reading)}, {reason}. It stays in the log.");
        return run;
    });

    // As on the screens the simulated instrument shows nothing by itself: somebody looks.
    private Outcome<ProcedureRun> Looked(ProcedureSession session, Need.TakeReading need, string shown, bool take)
    {
        if (!shown.Any(char.IsAsciiDigit)) return new Problem($"the simulated instrument shows {shown} here", "Type a reading, or Q puts the run aside");
        Say($"The simulated instrument shows {shown} {need.Unit} here.");
        return take ? Taken(session, need, need.Unit == "mm" && LengthUnit != "mm" ? shown + " mm" : shown) : session.Run;
    }

    // The same words for each of many readings would hide the place, which is all that changes: said at the first, and where an answer was none.
    private string HowToRead(Need.TakeReading need)
    {
        var text = OneLine(need.Text[need.First.Length..]);
        var unit = text.Contains($" in {Spoken(UnitTyped(need.Unit))}", StringComparison.Ordinal) ? "" : $" In {Spoken(UnitTyped(need.Unit))};";
        var how = string.Create(CultureInfo.InvariantCulture, $"{text}{unit} R reads the last one again, X and a reason leaves it out, U takes it back, Q puts the run aside.{(Shows is null ? "" : " V looks at the simulated instrument, T takes what it shows.")}");
        var known = how == toldHow && !again;
        toldHow = how;
        return known ? string.Create(CultureInfo.InvariantCulture, $"In {Spoken(UnitTyped(need.Unit))}; R, X, U and Q as before{(Shows is null ? "" : "; V looks, T takes")}.") : how;
    }

    // "8.49 at 204.195" also tells the position really commanded.
    private Outcome<ProcedureRun> Taken(ProcedureSession session, Need.TakeReading need, string answer)
    {
        var parts = answer.Split(" at ", 2, StringSplitOptions.TrimEntries);
        if (Understood(session, parts[0], need.Unit) is not { } value) return session.Run;
        double? commanded = null;
        if (parts.Length == 2 && (commanded = Understood(session, parts[1], "mm")) is null) return session.Run;
        return session.Read(answer, value, commanded).Then<ProcedureRun>(reading =>
        {
            Say(string.Create(CultureInfo.InvariantCulture, $"recorded {reading.Recorded}"));
            Say(string.Create(CultureInfo.InvariantCulture, $"reading {need.Index + 1} of {need.Of} {(session.Run.IsBlind(reading.Group) ? "is on disk; what it was is not said again before the study ends" : "is " + Value(session, reading))}."));
            return session.Run;
        });
    }

    private Outcome<ProcedureRun> Slip(ProcedureSession session, Need.SlipQuestion question)
    {
        // Where nothing tells which of two is off, either is read again, and none is changed.
        var offered = question.Earlier is { } other ? $" A reads reading {other.CellIndex + 1}, {Value(session, other)}, again." : question.OtherZero ? " Another zero since the break? A gives it and what follows a zero of its own." : question.Suggestion is { } value ? string.Create(CultureInfo.InvariantCulture, $" A takes {session.Run.AsTyped(value)} {LengthUnit}.") : "";
        // Who read again and types the same is not asked without end.
        var same = session.Run.ReadsTheSame(question.Reading, 0);
        var text = $"{OneLine(question.Reason)}. A slip? R reads it again.{offered} O keeps it, marked in the report, U takes it back, Q puts the run aside. Empty for {(same ? "O" : "R")}.";
        return Prompt(session, "choose", question.Step, text) switch
        {
            null => session.Run,
            var answer when answer.Length == 0 || IsYes(answer) => session.AnswerSlip(same ? SlipAnswer.Keep : SlipAnswer.ReadAgain),
            var answer when Is(answer, "r") => session.AnswerSlip(SlipAnswer.ReadAgain),
            var answer when Is(answer, "a") && question.Earlier is not null => session.AnswerSlip(SlipAnswer.EarlierAgain),
            var answer when Is(answer, "a") && question.OtherZero => session.AnswerSlip(SlipAnswer.OwnZero),
            var answer when Is(answer, "a") && question.Suggestion is not null => Corrected(session),
            var answer when Is(answer, "o") => session.AnswerSlip(SlipAnswer.Keep),
            var answer when answer.Any(char.IsAsciiDigit) && question.Reading.Sequence == session.LastReading?.Sequence => ReadAgain(session, answer),
            var answer => Unclear(session, answer),
        };
    }

    // A number in place of a letter is what it reads now, as on the screens: the instrument is still there.
    private Outcome<ProcedureRun> ReadAgain(ProcedureSession session, string answer) => session.AnswerSlip(SlipAnswer.ReadAgain).Then(run =>
    {
        Say("read again.");
        return run.Needs is Need.TakeReading need ? Taken(session, need, answer) : run;
    });

    private Outcome<ProcedureRun> Corrected(ProcedureSession session) => session.AnswerSlip(SlipAnswer.AsSuggested).Then<ProcedureRun>(run =>
    {
        var corrected = run.Readings[^1];
        Say(string.Create(CultureInfo.InvariantCulture, $"recorded {corrected.Recorded}"));
        if (!run.IsBlind(corrected.Group)) Say(string.Create(CultureInfo.InvariantCulture, $"reading {corrected.CellIndex + 1} is {Value(session, corrected)}."));
        return run;
    });

    private string WhereTo(Need.TakeReading need)
    {
        var side = need.Cell.Approach switch
        {
            Core.Machines.Approach.Increasing => "Come from below: ",
            Core.Machines.Approach.Decreasing => "Come from above: ",
            _ => "",
        };
        var places = need.Cell.GoTo.Select(position => string.Create(CultureInfo.InvariantCulture, $"{position.Axis} {ShownUnits.Named(LengthUnit).Digits(position.Mm)}"));
        var lines = need.Moves.Select(LineOf).OfType<string>();
        return $"{side}go to {string.Join(", then to ", places)}. Lines to copy: {string.Join(" then ", lines)}.";
    }
}
