using Commission.Core.Machines.Dialects;
using Commission.Core.Motion;
using Commission.Tests;
using CsCheck;

namespace Commission.Core.Tests.Motion;

public class LineReaderTests
{
    private static readonly LineReader Numbered = new(ShippedDialects.Find("numbered-settings")!);
    private static readonly LineReader Letters = new(ShippedDialects.Find("letter-words")!);

    [Fact]
    public void A_bracketed_state_tells_state_position_and_pressed_switches()
    {
        var told = Assert.IsType<Answer.Status>(Assert.Single(Numbered.Read("<Jog|MPos:-1.000,2.500,-90.000|FS:600,0|Pn:XZP|Ov:100,100,100>")));
        Assert.Equal(ControllerState.Moving, told.State);
        Assert.Equal(new MachinePosition(-1, 2.5, -90), told.Machine);
        Assert.True(told.Pressed!.SetEquals([AxisName.X, AxisName.Z]));
    }

    [Fact]
    public void A_state_word_may_carry_a_sub_number_and_an_unknown_word_is_unknown()
    {
        var held = Assert.IsType<Answer.Status>(Assert.Single(Numbered.Read("<Hold:1|WPos:1.0,2.0,3.0,4.0|WCO:10,20,30>")));
        Assert.Equal((ControllerState.Held, "1"), (held.State, held.Code));
        Assert.Equal((new MachinePosition(1, 2, 3), new MachinePosition(10, 20, 30)), (held.Work, held.Offset));
        Assert.Equal(ControllerState.Unknown, Assert.IsType<Answer.Status>(Assert.Single(Numbered.Read("<Dreaming>"))).State);
    }

    [Theory]
    [InlineData("ok", typeof(Answer.Done))]
    [InlineData("okay", typeof(Answer.Noise))]
    [InlineData("error:9", typeof(Answer.Refused))]
    [InlineData("ALARM:1", typeof(Answer.Alarm))]
    [InlineData("Ready 2.0 ['$' for help]", typeof(Answer.Greeting))]
    [InlineData("[MSG:something]", typeof(Answer.Remark))]
    [InlineData("$100=320.000", typeof(Answer.Setting))]
    [InlineData("$N0=G21", typeof(Answer.Noise))]
    [InlineData("<Idle|MPos:1.000,2", typeof(Answer.Noise))]
    [InlineData("x%#", typeof(Answer.Noise))]
    public void A_line_of_numbered_settings_has_one_meaning(string line, Type meaning) =>
        Assert.IsType(meaning, Assert.Single(Numbered.Read(line)));

    [Theory]
    [InlineData("ok", typeof(Answer.Done))]
    [InlineData("ok T:20.1 /0.0", typeof(Answer.Done))]
    [InlineData("Error:Machine halted", typeof(Answer.Refused))]
    [InlineData("!!", typeof(Answer.Refused))]
    [InlineData("echo:busy: processing", typeof(Answer.Busy))]
    [InlineData("Resend: 7", typeof(Answer.Resend))]
    [InlineData("start", typeof(Answer.Greeting))]
    [InlineData("echo:  nothing to say", typeof(Answer.Remark))]
    [InlineData("// a comment", typeof(Answer.Remark))]
    [InlineData("X:1.00 Y:2.00 Z:-3.00 E:0.00 Count X:320 Y:640 Z:-960", typeof(Answer.Status))]
    [InlineData("x_min: TRIGGERED", typeof(Answer.Switch))]
    public void A_line_of_letter_words_has_one_meaning(string line, Type meaning) =>
        Assert.IsType(meaning, Assert.Single(Letters.Read(line)));

    [Fact]
    public void A_position_counts_by_its_first_letters_and_an_acknowledgement_may_stand_behind_it()
    {
        var answers = Letters.Read("X:1.00 Y:2.00 Z:-3.00 Count X:320 Y:640 Z:-960 ok");
        Assert.Equal(new MachinePosition(1, 2, -3), Assert.IsType<Answer.Status>(answers[0]).Machine);
        Assert.IsType<Answer.Done>(answers[1]);
    }

    [Fact]
    public void A_line_of_words_holds_one_setting_for_each_letter()
    {
        var settings = Letters.Read("echo:  M92 X320.00 Y320.00 Z400.00").Cast<Answer.Setting>();
        Assert.Equal(["M92 X=320.00", "M92 Y=320.00", "M92 Z=400.00"], settings.Select(one => $"{one.Key}={one.Text}"));
    }

    [Fact]
    public void Any_line_has_an_answer_and_none_ends_in_an_exception() => Gen.OneOf(
        Gen.String[Gen.Char, 0, 60],
        Gen.String[Gen.Char["<>|:,.=$-0123456789 MPosWCOPnXYZokerrALARMIdle"], 0, 60]).SampleFixed(line =>
        {
            Assert.All(Numbered.Read(line).Concat(Letters.Read(line)), Assert.NotNull);
        }, iter: 5000);
}
