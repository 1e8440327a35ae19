using Commission.Core.Instruments;
using Commission.Core.Procedures;
using Commission.Tests;
using Commission.Workshop.Sessions;

namespace Commission.Workshop.Tests.Sessions;

/// <summary>What an instrument cannot have shown is recorded as typed, and asked about.</summary>
public sealed class InstrumentWatchTests
{
    private static string? Asked(ProcedureSession session, string typed, double value)
    {
        session.Read(typed, value).Require();
        return (session.Needs as Need.SlipQuestion)?.Reason;
    }

    private static ProcedureSession AtTheFirstReading(MemoryJournal journal, LengthUnit unit = LengthUnit.Millimetre)
    {
        var session = SessionScene.Open(journal, "axis-scale", AxisName.X, Invented.Caliper, SessionScene.Heron with { Units = unit });
        Answers.UntilReading(session);
        return session;
    }

    [Theory]
    [InlineData("8.1234", 8.1234, "0.01 mm is the last digit of caliper 150; 8.1234 has more")]
    [InlineData("77.456789", 77.456789, "0.01 mm is the last digit of caliper 150; 77.456789 has more")]
    [InlineData("8,125", 8.125, "0.01 mm is the last digit of caliper 150; 8,125 has more")]
    [InlineData("8.125 at 204.195", 8.125, "0.01 mm is the last digit of caliper 150; 8.125 has more")]
    [InlineData("99999", 99999, "99999 mm is more than caliper 150 can read, 150 mm")]
    public void What_the_instrument_cannot_show_is_asked_about(string typed, double value, string reason)
    {
        using var journal = SessionScene.Journal();
        var session = AtTheFirstReading(journal);
        Assert.Equal(reason, Asked(session, typed, value));
        session.AnswerSlip(SlipAnswer.Keep).Require();
        Assert.Equal((typed, value), (session.LastReading!.Typed, session.LastReading.Value));
        Assert.Contains(journal.Entries(), entry => entry.Body is EntryBody.Noted noted && noted.Text == "Question: " + reason);
    }

    // Found in use: the commonest slip of inches, a caliper left standing in millimetres, was asked about without what it meant.
    [Theory]
    [InlineData("8.12", 8.12, 8.12)]
    [InlineData("8.12 in", 8.12, null)]
    [InlineData("90.5", 90.5, null)]
    public void A_caliper_that_stands_in_millimetres_on_a_machine_of_inches_is_named_where_the_plan_allows_it(string typed, double inches, double? meant)
    {
        using var journal = SessionScene.Journal();
        var session = AtTheFirstReading(journal, LengthUnit.Inch);
        var reason = Asked(session, typed, inches * 25.4);
        Assert.Contains("is more than caliper 150 can read", reason, StringComparison.Ordinal);
        Assert.Equal(meant is not null, reason!.EndsWith("; perhaps it shows millimetres", StringComparison.Ordinal));
        Assert.Equal(meant, ((Need.SlipQuestion)session.Needs).Suggestion);
        if (meant is null) return;
        session.AnswerSlip(SlipAnswer.AsSuggested).Require();
        Assert.Equal(8.12, session.LastReading!.Value, 9);
        Assert.Equal("0.3197", session.LastReading.Typed);
        // Found in use: what was suggested was asked about in turn, for digits that only its own unit has.
        Assert.IsNotType<Need.SlipQuestion>(session.Needs);
    }

    [Theory]
    [InlineData("8.12", 8.12)]
    [InlineData("8.1", 8.1)]
    [InlineData("8.120", 8.12)]
    [InlineData("0.29", 0.29)]
    [InlineData("-0.02", -0.02)]
    [InlineData("150.01", 150.01)]
    [InlineData("0.3201 in", 8.13054)]
    public void What_it_can_show_is_not(string typed, double value)
    {
        using var journal = SessionScene.Journal();
        Assert.Null(Asked(AtTheFirstReading(journal), typed, value));
    }

    [Theory]
    [InlineData("1/8", 3.175)]
    [InlineData("0.3201", 8.13054)]
    [InlineData("3 1/16", 77.7875)]
    public void Inches_are_no_multiples_of_its_digit_and_are_left_alone(string typed, double value)
    {
        using var journal = SessionScene.Journal();
        Assert.Null(Asked(AtTheFirstReading(journal, LengthUnit.Inch), typed, value));
    }

    [Theory]
    [InlineData(0.01, "0.32015", 8.13181, "0.0001 in is the finest that caliper 150 can show; 0.32015 has more")]
    [InlineData(0.0127, "0.3203", 8.13562, "0.0005 in is the last digit of caliper 150; 0.3203 has more")]
    [InlineData(0.0127, "0.3205", 8.1407, null)]
    public void A_digit_of_an_inch_that_it_cannot_show_is_asked_about_too(double digitMm, string typed, double value, string? reason)
    {
        using var journal = SessionScene.Journal();
        var session = SessionScene.Open(journal, "axis-scale", AxisName.X, Invented.Caliper with { ResolutionMm = digitMm }, SessionScene.Heron with { Units = LengthUnit.Inch });
        Answers.UntilReading(session);
        Assert.Equal(reason, Asked(session, typed, value));
    }

    // Found in use: a caliper said to read to 5.906 in was believed at 5.9340 in. It may read a little further: who keeps one is not asked for each.
    [Fact]
    public void Behind_the_last_mark_of_a_caliper_it_is_asked_once_and_not_again_where_it_was_kept()
    {
        using var journal = SessionScene.Journal();
        var session = AtTheFirstReading(journal, LengthUnit.Inch);
        var offset = 153 - session.Run.Cells.Max(cell => cell.Given["commanded_mm"]);
        List<string> asked = [];
        while (session.Needs is Need.TakeReading need)
        {
            var inches = Math.Round((need.Cell.Given["commanded_mm"] + offset) / 25.4, 4);
            if (Asked(session, inches.ToString("F4", System.Globalization.CultureInfo.InvariantCulture), inches * 25.4) is not { } reason) continue;
            asked.Add(reason);
            session.AnswerSlip(SlipAnswer.Keep).Require();
        }

        Assert.Matches(@"^(5\.9[1-9]|6\.0)\d* in is more than caliper 150 can read, 5\.906 in$", Assert.Single(asked));
        Assert.True(session.Run.Readings.Count(reading => reading.Value > 150.1) > 1);
    }

    // Found in use: 8.49 read in mm, typed on a machine of inches after 0.3340 and 0.3345.
    [Fact]
    public void Millimetres_typed_as_inches_are_offered_as_what_the_instrument_showed_in_mm()
    {
        using var journal = SessionScene.Journal();
        var session = SessionScene.Open(journal, "gauge-study", null, Invented.Caliper with { ResolutionMm = 0.0127 }, SessionScene.Heron with { Units = LengthUnit.Inch });
        Answers.UntilReading(session);
        Assert.Null(Asked(session, "0.3345", 0.3345 * 25.4));
        Assert.Null(Asked(session, "0.3340", 0.3340 * 25.4));
        // How far stays hidden but for its size, in the unit that is read.
        Assert.Equal("8.49 lies about 8 in from the other readings of this thing; perhaps millimetres typed as inches", Asked(session, "8.49", 8.49 * 25.4));
        Assert.Equal(8.49, ((Need.SlipQuestion)session.Needs).Suggestion!.Value, 6);
        session.AnswerSlip(SlipAnswer.AsSuggested).Require();
        Assert.IsType<Need.TakeReading>(session.Needs);
    }

    [Theory]
    [InlineData(0.01, 4.7795 * 25.4, true)]
    [InlineData(0.01, 121.4, true)]
    [InlineData(0.01, 0.849, false)]
    [InlineData(0.0127, 8.12, true)]
    [InlineData(0.0127, 0.3203 * 25.4, false)]
    [InlineData(0.01, 1645, false)]
    public void What_is_suggested_can_be_shown_in_one_of_the_two_units(double digitMm, double meantMm, bool shows) =>
        Assert.Equal(shows, LastDigit.Shows(Invented.Caliper with { ResolutionMm = digitMm }, meantMm));

    [Fact]
    public void A_length_below_zero_is_asked_about_once_and_A_takes_it_without_the_sign()
    {
        using var journal = SessionScene.Journal();
        var session = AtTheFirstReading(journal);
        Assert.Equal("-8.12 is below zero, and a length is not", Asked(session, "-8,12", -8.12));
        Assert.Equal(8.12, ((Need.SlipQuestion)SessionScene.Open(journal, "axis-scale", AxisName.X, Invented.Caliper).Needs).Suggestion);
        session.AnswerSlip(SlipAnswer.AsSuggested).Require();
        Assert.Equal(8.12, session.LastReading!.Value);

        // A caliper that was zeroed in the middle shows what lies below it with a minus: who keeps one is not asked again.
        using var zeroed = SessionScene.Journal();
        var middle = AtTheFirstReading(zeroed);
        Assert.NotNull(Asked(middle, "-60.00", -60));
        middle.AnswerSlip(SlipAnswer.Keep).Require();
        Assert.Null(Asked(middle, "-1.00", -1));
    }

    [Fact]
    public void Read_again_asks_for_the_same_reading_once_more()
    {
        using var journal = SessionScene.Journal();
        var session = AtTheFirstReading(journal);
        Asked(session, "8.1234", 8.1234);
        session.AnswerSlip(SlipAnswer.ReadAgain).Require();
        Answers.UntilReading(session);
        Assert.Equal(0, Assert.IsType<Need.TakeReading>(session.Needs).Index);
        Assert.Null(session.LastReading);
    }

    [Fact]
    public void The_question_stands_again_when_the_run_is_taken_up()
    {
        using var journal = SessionScene.Journal();
        var reason = Asked(AtTheFirstReading(journal), "8.1234", 8.1234);
        var resumed = ProcedureSession.Open(journal, SessionScene.Request("axis-scale", AxisName.X, Invented.Caliper) with { Resume = true }).Require();
        Assert.Equal(reason, Assert.IsType<Need.SlipQuestion>(resumed.Needs).Reason);
    }
}
