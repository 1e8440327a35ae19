using System.Text.RegularExpressions;
using Commission.Core.Procedures;
using Commission.Tests;

namespace Commission.Core.Tests.Procedures;

/// <summary>What a person reads aloud with a caliper in one hand: each step says what to type and in which unit, trade words are explained in the same procedure, the handbook has a page.</summary>
public sealed partial class WordsOfProceduresTests
{
    // Trade words and a piece of what explains them; where a word stands in a procedure, its explanation stands there too.
    private static readonly (string Word, string Explained)[] Trade =
    [
        ("collet", "clamp that holds the cutter"), ("shim", "thin strip of metal"), ("spoil board", "board .*that may be cut into"), ("burr", "sharp (raised )?edge"),
        ("ppm", "parts in a million"), ("soft limits", "ends (that )?the controller itself keeps"), ("pinion", "small toothed wheel"), ("feeler gauge", "thin leaves of known thickness"),
        ("coupon", "test piece"), ("end mill", "straight sides"), ("normally closed", "closed until the switch is pressed"), ("residual-current device", "switches off when current leaks"),
        ("rung", "one speed is called a rung"), ("racks", "twists like a drawer"), ("blade", "thin arm blade|blade upright"), ("resonance", "rough band"), ("clearance", "free way between parts|clearance: "),
        ("set-up time", "direction wire stand still"),
    ];

    public static TheoryData<string> Ids => [.. OrderOfWork.Ids];

    [Theory]
    [MemberData(nameof(Ids))]
    public void A_trade_word_stands_with_its_explanation(string id)
    {
        var text = Space().Replace(string.Join(' ', Texts(Shipped.Procedure(id))), " ");
        foreach (var (word, explained) in Trade)
        {
            if (Regex.IsMatch(text, $@"\b{word}s?\b", RegexOptions.IgnoreCase))
                Assert.True(Regex.IsMatch(text, explained, RegexOptions.IgnoreCase), $"'{word}' is not explained in {id}");
        }
    }

    [Theory]
    [MemberData(nameof(Ids))]
    public void Each_step_says_what_to_do_or_to_type_and_in_which_unit(string id)
    {
        foreach (var step in Shipped.Procedure(id).AllSteps)
        {
            switch (step)
            {
                case Step.Check { Answer: CheckAnswer.Number { Unit: var unit } } check:
                    Assert.Matches(@"\?|\b([Tt]ype|[Mm]easure|[Ww]hich|how)\b", check.Ask);
                    Assert.True(unit.Length > 0, check.Ask);
                    break;
                case Step.Check { Answer: CheckAnswer.YesNo or CheckAnswer.Word } check:
                    Assert.True(check.Ask.Contains('?', StringComparison.Ordinal), $"no question: {check.Ask}");
                    break;
                case Step.Check { Answer: CheckAnswer.Line or CheckAnswer.Rectangles } check:
                    Assert.Matches(@"\b([Tt]ype|Empty)\b", check.Ask);
                    break;
                case Step.Read read:
                    Assert.Matches(@"\b[Tt]ype\b|What does|Measure", read.Ask);
                    Assert.Matches(@"\b(mm|digits|dial|caliper)\b", read.Ask);
                    break;
                case Step.Confirm confirm:
                    Assert.True(confirm.Text.Trim().EndsWith('.'), confirm.Text);
                    break;
                default:
                    break;
            }

            // One thing a sentence: nobody keeps more than 45 words in mind while holding a caliper.
            Assert.All(step.Texts.SelectMany(Sentences), sentence => Assert.True(sentence.Split(' ', StringSplitOptions.RemoveEmptyEntries).Length <= 45, $"too long to read aloud: {sentence}"));
        }
    }

    [Theory]
    [MemberData(nameof(Ids))]
    public void No_word_praises_and_no_word_promises(string id) =>
        Assert.All(Texts(Shipped.Procedure(id)), text => Assert.DoesNotMatch(@"\b(safe|safely|OK|okay|successful|successfully|simply|just do|easy|easily)\b|!", text));

    // The handbook is one key away, on the page of the procedure or of the kind it evaluates.
    [Theory]
    [MemberData(nameof(Ids))]
    public void The_handbook_has_its_page(string id)
    {
        var procedure = Shipped.Procedure(id);
        string[] pages = [id, .. procedure.AllSteps.OfType<Step.Evaluate>().Select(evaluate => evaluate.Kind), .. Shared(id)];
        Assert.Contains(pages, page => File.Exists(Repository.At("shared", "handbook", page + ".md")));
    }

    [Theory]
    [MemberData(nameof(Ids))]
    public void A_card_has_all_its_parts(string id)
    {
        var procedure = Shipped.Procedure(id);
        Assert.True(procedure.Hazards.Length > 0 && procedure.Evaluation.Length > 0 && procedure.Abort.Length > 0 && procedure.GoodData.Length > 0 && procedure.Slips.Length > 0);
        Assert.InRange(procedure.Minutes, 5, 240);
        Assert.True(procedure.Purpose.Length > 40, procedure.Purpose);
        Assert.All(procedure.Needs, need => Assert.True(need.Because.Length > 15, need.Because));
        Assert.All(procedure.Instruments, instrument => Assert.True(instrument.Kinds.Length > 0 && instrument.OrElse.Length > 12, instrument.For));

        // Readings come from a plan, and where something is read the owner is told how to set it up before.
        var first = procedure.AllSteps.ToList().FindIndex(step => step is Step.Read);
        if (first >= 0)
            Assert.Contains(procedure.AllSteps.Take(first), step => step is Step.Instruct or Step.Power);
    }

    // Common practice, no source: what must hold before, by cards. Where a card is content with less, the reason stands beside it.
    [Theory]
    [InlineData("ratio-check", "first-power-up")] // the first motion comes after the electrical checks; nominal steps are asked for on the way
    [InlineData("switch-logic", "")] // P22 is a check of the power-up itself
    [InlineData("homing", "switch-logic")]
    [InlineData("speed-ladder", "nominal-steps")] // homing is advice here: machines without switches have none
    [InlineData("backlash", "speed-ladder")]
    [InlineData("stiffness", "backlash")]
    [InlineData("axis-scale", "ratio-check")] // lost motion comes out of the balanced directions, so backlash is advice
    [InlineData("bed-map", "tram")]
    [InlineData("z-square", "bed-map")]
    [InlineData("test-cut", "backlash")]
    [InlineData("speed-under-load", "speed-ladder")]
    [InlineData("noise", "switch-logic")]
    [InlineData("home-offset", "homing diagonals")]
    [InlineData("surfacing", "tram bed-map")]
    public void What_must_hold_before_stands_in_the_card(string id, string musts) =>
        Assert.Equal(musts.Split(' ', StringSplitOptions.RemoveEmptyEntries).Order(), Shipped.Procedure(id).Needs.Where(need => need.Must).Select(need => need.Procedure).Order());

    private static string[] Shared(string id) => id switch
    {
        "nominal-steps" or "ratio-check" => ["steps-and-ratio"],
        "readiness" or "first-moves" or "switch-logic" => ["first-power-up"],
        "speed-under-load" => ["speed-ladder"],
        "recheck" => ["drift"],
        _ => [],
    };

    private static IEnumerable<string> Texts(Procedure procedure) =>
    [
        procedure.Title, procedure.Purpose, .. procedure.Hazards.SelectMany(hazard => new[] { hazard.What, hazard.Do }), .. procedure.Needs.Select(need => need.Because),
        .. procedure.Instruments.Select(instrument => instrument.OrElse), .. procedure.AllSteps.SelectMany(step => step.Texts),
        .. procedure.AllSteps.OfType<Step.Check>().Select(check => check.IfOut), .. procedure.Evaluation, .. procedure.Abort, .. procedure.GoodData, .. procedure.Slips,
    ];

    private static string[] Sentences(string text) => End().Split(Space().Replace(text, " "));

    [GeneratedRegex(@"\s+")]
    private static partial Regex Space();

    [GeneratedRegex(@"(?<=[.?;:])\s+")]
    private static partial Regex End();
}
