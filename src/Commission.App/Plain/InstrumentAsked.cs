using System.Globalization;
using Commission.App.CommandLine;
using Commission.Core;
using Commission.Core.Instruments;
using Commission.Core.Quantities;

namespace Commission.App.Plain;

/// <summary>Asks about what was told of an instrument and can hardly be, by question and answer, as the form of the screens does.</summary>
internal sealed class InstrumentAsked(Surroundings here)
{
    private readonly PlainQuestion asking = new(() => here.In, here.Out, here.Error);

    /// <summary>The instrument as it is kept; null where that was put aside.</summary>
    /// <param name="told">The instrument as it was told.</param>
    /// <param name="likeId">The row of the catalogue it is described by; null for none.</param>
    public Instrument? Settled(Instrument told, string? likeId)
    {
        var limit = Settled("limit-mm", "Limit of error, mm; empty: not known.", told.LimitMm, mm => InstrumentDoubt.AboutLimit(told.Kind, likeId, mm));
        var digit = limit.Aside ? limit : Settled("resolution-mm", "Last digit, mm; empty: not known.", told.ResolutionMm, mm => InstrumentDoubt.AboutDigit(told.Kind, likeId, mm));
        return digit.Aside ? null : told with { LimitMm = limit.Mm, ResolutionMm = digit.Mm };
    }

    private (bool Aside, double? Mm) Settled(string name, string question, double? mm, Func<double?, InstrumentDoubt?> about)
    {
        while (about(mm) is { } doubt)
        {
            var meant = doubt.MeantMm?.ToString("0.#####", CultureInfo.InvariantCulture);
            var told = mm is { } number ? string.Create(CultureInfo.InvariantCulture, $"{number:0.######} mm") : "that it is not known";
            var (by, answer) = asking.Ask(
                "choose", name, $"{doubt.Reason}. A slip? R answers anew.{(meant is null ? "" : $" A takes {meant} mm.")} O stores {told}. Empty for R.", ["R asks for it again; O stores what was typed."],
                typed => typed.Length == 0 || PlainWords.Is(typed, "r") || PlainWords.Is(typed, "o") || PlainWords.IsYes(typed) || (meant is not null && PlainWords.Is(typed, "a")) ? null
                    : new Problem($"'{PlainText.Of(typed)}' is no answer here", "Answer with one of the letters in the question"));
            if (by is not AnsweredBy.Answer)
                return (true, null);
            if (PlainWords.Is(answer, "o"))
                return (false, mm);
            if (meant is not null && PlainWords.Is(answer, "a"))
                return (false, doubt.MeantMm);
            (by, answer) = asking.Ask("text", name, question, ["A positive number with comma or point, as on its papers."], typed => Length(typed) is Outcome<double>.Bad bad ? bad.Problems[0] : null);
            if (by is not AnsweredBy.Answer)
                return (true, null);
            mm = answer.Length == 0 ? null : Length(answer).Require();
        }

        return (false, mm);
    }

    private static Outcome<double> Length(string typed) => typed.Length == 0 ? 0.0 : TypedNumber.Read(typed, "mm") switch
    {
        NumberReading.Clear { Number: var number } when number.Value > 0 => number.In("mm"),
        NumberReading.NotANumber not => not.Problem,
        _ => new Problem($"{PlainText.Of(typed)} is not one number above zero", "Type a positive number in mm with a decimal point"),
    };
}
