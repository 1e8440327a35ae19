using Commission.Core.Characteristics;
using Commission.Practice.Controller;
using Terminal.Gui.Input;
using static Commission.App.Tests.Screens.LinkedWindow;

namespace Commission.App.Tests.Screens;

/// <summary>From a finding to the controller over a link: the difference, the box, its letter, the read-back; and what differs on the controller, decided.</summary>
public sealed class WriteStoryTests : BoardScreens
{
    private const string Y = "101";

    private static readonly AxisDescription Steps = new() { StepsPerMm = 320, Setting = RatioSetting.StepsPerMm, SettingDecimals = 3 };

    public WriteStoryTests()
        : base(new Machine { Name = "Heron", TravelMm = [420, 580, 90], X = Steps, Y = Steps, Z = Steps }) => Journal.Append(Change()).Require();

    [Fact]
    public void The_axis_letter_writes_and_what_is_read_back_agrees()
    {
        using var window = Finding();
        Box(window);
        Golden.Both("write-box", window);
        Confirm(window, "y", "read back        319.606 steps/mm, agrees");
        Golden.Both("write-read-back", window);
        Assert.Contains("Not tested: whether the controller keeps it when its power goes.", window.Text, StringComparison.Ordinal);
        Assert.Equal("319.606", Board.Setting(Y));
        Assert.Equal(["intended", "read-back"], Written().Select(write => write.Stage));
        window.Press(Key.Enter);
        Assert.Contains("Since then: 319.606 steps/mm, written and read back", window.Text, StringComparison.Ordinal);
        Golden.Both("write-finding-afterwards", window);
        Assert.DoesNotContain("Enter difference", window.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Enter_Esc_a_wrong_letter_a_letter_too_early_and_a_caliper_write_nothing()
    {
        using var window = Finding();
        Box(window);
        window.Type("y", gapMs: 60);
        Assert.Contains("before the box could be read", window.Text, StringComparison.Ordinal);
        Rest(window);
        window.Type("x");
        Assert.Contains("The box waits for Y.", window.Text, StringComparison.Ordinal);
        window.Type("146.50\n", gapMs: 2);
        Assert.Contains("A reading arrived, 146.50, and nothing here takes one.", window.Text, StringComparison.Ordinal);
        Assert.Contains("WRITE ONE SETTING", window.Text, StringComparison.Ordinal);
        window.Advance(300);
        window.Press(Key.Enter);
        Assert.Contains("Nothing was written.", window.Text, StringComparison.Ordinal);
        Box(window);
        window.Press(Key.Esc);
        Assert.Contains("Nothing was written.", window.Text, StringComparison.Ordinal);
        Assert.Empty(Written());
        Assert.Equal("320.000", Board.Setting(Y));
    }

    [Fact]
    public void D_shows_the_exact_text_for_the_wire_and_the_letter_waits_anew_afterwards()
    {
        using var window = Finding();
        Box(window);
        Rest(window);
        window.Type("d");
        Assert.Contains(" - $101=319.606", window.Text, StringComparison.Ordinal);
        Golden.Both("write-wire-text", window);
        window.Press(Key.Esc);
        window.Type("y", gapMs: 60);
        Assert.Contains("before the box could be read", window.Text, StringComparison.Ordinal);
        Assert.Empty(Written());
    }

    [Fact]
    public void A_value_that_reads_back_otherwise_is_shown_with_both_numbers_and_nothing_more_is_written()
    {
        Board.Tamper = line => line.Replace("=319.606", "=319.6", StringComparison.Ordinal);
        using var window = Finding();
        Box(window);
        Confirm(window, "y", "319.600");
        Golden.Both("write-reads-back-otherwise", window);
        Assert.Contains("known now        steps per mm, Y, to 319.606: written", window.Text, StringComparison.Ordinal);
        Assert.Contains("Nothing more is written.", window.Text, StringComparison.Ordinal);
        window.Press(Key.Enter);
        Assert.DoesNotContain("319.606, written and read back", window.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_write_that_the_controller_refuses_is_told_with_what_it_holds_now()
    {
        Board.Tamper = line => line.Replace("$101=319.606", "$999=319.606", StringComparison.Ordinal);
        using var window = Finding();
        Box(window);
        Confirm(window, "y", "known now");
        Golden.Both("write-refused", window);
        Assert.Contains("Nothing more is written.", window.Text, StringComparison.Ordinal);
        Assert.Equal("320.000", Board.Setting(Y));
    }

    [Fact]
    public void A_link_that_is_lost_in_the_middle_says_that_it_is_not_known_whether_it_was_written()
    {
        Board.Tamper = line =>
        {
            if (line.StartsWith("$101=", StringComparison.Ordinal))
                Board.Unplug();
            return line;
        };
        using var window = Finding();
        Box(window);
        Confirm(window, "y", "may or may not be written");
        // Whether the way back meets a board that is not at rest or a link that is closed already is a matter of milliseconds.
        Golden.Both("write-link-lost", window, screen => screen.Replace("settings are written only at rest.", "the link is closed.".PadRight(34), StringComparison.Ordinal));
        Assert.Equal("intended", Written().First().Stage);
        Assert.Contains("Nothing more is written.", window.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_write_that_nobody_answers_may_or_may_not_be_written_and_the_next_connection_says_which()
    {
        using (var window = Finding())
        {
            Unanswered(window);
            Golden.Both("write-never-answered", window);
            window.Press(Key.Enter);
            Golden.Both("write-never-answered-afterwards", window);
            Unlink(window);
        }

        Clock.Advance(TimeSpan.FromHours(1));
        using var next = Open();
        Link(next);
        Until(next, "was interrupted");
        Assert.Contains("us, unread", next.Text, StringComparison.Ordinal);
        Golden.Both("write-interrupted", next);
        next.Press(Key.Enter);
        Golden.Both("write-interrupted-decide", next);
    }

    [Fact]
    public void Without_a_link_the_value_that_was_set_by_hand_is_told()
    {
        using var window = Open();
        window.Type("f\n\n");
        Assert.Contains("steps per mm, Y: 319.606 is proposed. What does the controller hold now?", window.Text, StringComparison.Ordinal);
        Golden.Both("write-told", window);
        window.Type("319,6\n");
        var told = Assert.Single(Written());
        Assert.Equal(("told", 319.6, (double?)null), (told.Stage, told.After, told.ReadBack));
        Assert.Contains("Since then: 319.6 steps/mm, told", window.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void What_was_left_as_it_is_is_open_again_once_that_answer_was_undone()
    {
        using var window = Open();
        LeaveAsIs(window);
        window.Type("l");
        window.Type("u");
        window.Type("f\n");
        Assert.DoesNotContain("Since then", window.Text, StringComparison.Ordinal);
        Assert.Contains("O leave as is", window.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_value_told_before_the_link_was_opened_counts_as_known()
    {
        using (var before = Open())
        {
            Link(before);
            Unlink(before);
            before.Type("f");
            before.Press(Key.Enter, Key.Enter);
            before.Type("319.606\n");
        }

        Clock.Advance(TimeSpan.FromHours(1));
        Board.ChangedElsewhere(Y, "319.606");
        using var window = Open();
        Link(window);
        Until(window, "0 differ.");
        Assert.Contains("told, 11 Apr", window.Text, StringComparison.Ordinal);
        Assert.DoesNotContain("NOT BY US", window.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void O_leaves_it_as_it_is_and_the_log_keeps_the_answer()
    {
        using var window = Open();
        LeaveAsIs(window);
        Assert.DoesNotContain("O leave as is", window.Text, StringComparison.Ordinal);
        Assert.Equal((3, "left as it is"), (Assert.Single(Ledger.Notes).Body.About, Ledger.Notes[0].Body.Text));
    }

    [Fact]
    public void What_somebody_else_changed_is_marked_and_put_back_through_the_box()
    {
        using var window = Differing();
        Assert.Contains(">>              Y           400               200         +200     NOT BY US", window.Text, StringComparison.Ordinal);
        Golden.Both("controller-differs", window);
        // Read again: what was not decided is still marked.
        window.Type("r");
        Until(window, "1 differs");
        window.Press(Key.Enter);
        Assert.Contains("put back       200 mm/s2, through the box", window.Text, StringComparison.Ordinal);
        Golden.Both("controller-decide", window);
        window.Press(Key.Enter);
        Until(window, "acceleration, Y");
        Confirm(window, "y", "read back        200.000 mm/s2, agrees");
        Assert.Equal("200.000", Board.Setting("121"));
        window.Press(Key.Enter);
        Until(window, "0 differ.");
    }

    [Fact]
    public void What_is_kept_counts_from_then_on_and_the_log_says_who_knew()
    {
        using var window = Differing();
        window.Press(Key.Enter, Key.CursorDown, Key.CursorDown, Key.Enter);
        Assert.Contains("0 differ.", window.Text, StringComparison.Ordinal);
        Assert.Contains("told, 11 Apr", window.Text, StringComparison.Ordinal);
        Assert.Equal(400.0, Assert.Single(Written()).After);
        Assert.Contains(Ledger.Notes, note => note.Body.Text.EndsWith("kept, nobody knows who changed it", StringComparison.Ordinal));
    }

    [Fact]
    public void An_older_set_is_put_back_box_by_box_and_what_decides_homing_takes_the_letters_of_all_axes()
    {
        using var window = Differing(("27", "3.000"));
        window.Type("v");
        Assert.Contains("2 different sets", window.Rows[0], StringComparison.Ordinal);
        Golden.Both("controller-older-sets", window);
        window.Press(Key.CursorDown);
        window.Press(Key.Enter);
        Until(window, "box 1 of 2");
        Golden.Both("write-box-of-several", window);
        Confirm(window, "y", "read back        200.000 mm/s2, agrees");
        window.Press(Key.Enter);
        Until(window, "this decides homing");
        Golden.Both("write-box-that-decides", window);
        Rest(window);
        foreach (var letter in (string[])["x", "y"])
        {
            window.Type(letter, gapMs: 60);
            Assert.Contains("Nothing is written yet.", window.Text, StringComparison.Ordinal);
            Golden.Both("write-letters-given-" + letter, window);
            Rest(window);
        }

        Assert.Equal("3.000", Board.Setting("27"));
        Confirm(window, "z", "read back        1.000 mm, agrees");
        window.Press(Key.Enter);
        Assert.Equal(("200.000", "1.000"), (Board.Setting("121"), Board.Setting("27")));
        Assert.Contains("Everything that was asked for is written and read back.", window.Text, StringComparison.Ordinal);
    }

    // The line arrives and is carried out; that it was is never said.
    private void Unanswered(Headless window)
    {
        Board.Tamper = line =>
        {
            if (line.StartsWith("$101=", StringComparison.Ordinal))
                Board.Happens(ControllerFault.MissingAcknowledgement);
            return line;
        };
        Box(window);
        Confirm(window, "y", "may or may not be written");
        Board.Tamper = line => line;
    }

    private Headless Open() => new(Desk());

    private Headless Finding()
    {
        var window = Open();
        Link(window);
        window.Type("f\n");
        Assert.Contains("Enter difference", window.Rows[23], StringComparison.Ordinal);
        return window;
    }

    private static void LeaveAsIs(Headless window)
    {
        window.Type("f\n");
        window.Type("o");
        Assert.Contains("Since then: left as it is", window.Text, StringComparison.Ordinal);
    }

    private static void Box(Headless window)
    {
        window.Press(Key.Enter);
        Until(window, "WRITE ONE SETTING");
        Assert.Contains("steps per mm, Y", window.Text, StringComparison.Ordinal);
    }

    // Linked once when all was well, and again after somebody changed the acceleration of Y.
    private Headless Differing(params (string Key, string Text)[] more)
    {
        using (var before = Open())
        {
            Link(before);
            Unlink(before);
        }

        Clock.Advance(TimeSpan.FromHours(1));
        foreach (var (key, text) in more.Append(("121", "400.000")))
            Board.ChangedElsewhere(key, text);
        var window = Open();
        Link(window);
        Until(window, more.Length == 0 ? "1 differs." : "2 differ.");
        return window;
    }

    private List<EntryBody.SettingWritten> Written() => [.. Ledger.SettingsWritten.Select(write => write.Body)];

    private static EntryBody.FindingMade Change() => new()
    {
        Machine = "Heron", Characteristic = "axis-scale", Axis = "Y", Options = new FitOptions(),
        Finding = new Finding
        {
            Kind = "axis-scale", Method = "axis-scale/1", Rows = 10, Used = 10, Verdict = Verdict.Outside,
            Parameters = [new FittedParameter { Name = "scaleError", Unit = "1", Value = 0.001234, StandardUncertainty = 0.000149, CoverageFactor = 1.97, ExpandedUncertainty = 0.000294 }],
            Advice = new Advice
            {
                Action = AdviceAction.Change, Because = "the error lies beyond its uncertainty",
                Setting = new ProposedSetting { Name = "stepsPerMm", Axis = "Y", ExpressedAs = "steps/mm", Current = 320, Proposed = 319.6056, AsStored = 319.606, RoundingError = 0.0004, StandardUncertainty = 0.047 },
            },
        },
    };
}
