using System.Globalization;
using System.Text.RegularExpressions;
using Commission.Core.Procedures;
using Commission.Core.Reports;
using Commission.Workshop.Sessions;

namespace Commission.Workshop.Tests.Sessions;

/// <summary>Three heights on a line: a slip among them is asked about when it is typed, and no row is blamed that may as well be right.</summary>
public sealed class TramByHandTests
{
    private static readonly string[] Sweep = ["0.05", "0.04", "0.03", "0.02", "0.02", "0.03", "0.04", "0.05"];

    private static ProcedureSession AlongY(MemoryJournal journal, params string[] typed)
    {
        var session = SessionScene.Open(journal, "tram", null, SessionScene.Indicator);
        Answers.UntilReading(session, (need, on) => need is Need.Number && on.Number("100", 100).Require() is not null);
        foreach (var reading in (string[])[.. Sweep, "0.02", "0.03", "0.04", .. typed])
        {
            Answers.UntilReading(session, (need, _) => need is Need.SlipQuestion);
            if (session.Needs is not Need.TakeReading) break;
            Read(session, reading);
        }

        return session;
    }

    private static void Read(ProcedureSession session, string typed) => session.Read(typed, double.Parse(typed, CultureInfo.InvariantCulture)).Require();

    [Fact]
    public void A_gross_slip_among_three_is_asked_about_when_it_is_typed()
    {
        using var journal = SessionScene.Journal();
        var asked = Assert.IsType<Need.SlipQuestion>(AlongY(journal, "0.01", "0", "0.9").Needs);

        Assert.Equal(2, asked.Reading.CellIndex);
        Assert.Contains("0.9 lies", asked.Reason, StringComparison.Ordinal);
    }

    [Fact]
    public void Of_three_on_a_line_the_newest_is_asked_about_and_which_is_off_is_left_open()
    {
        using var journal = SessionScene.Journal();
        // Too small to be gross, too far for what the others leave.
        var session = AlongY(journal, "0.01", "0", "0.3");
        var asked = Assert.IsType<Need.SlipQuestion>(session.Needs);

        Assert.Equal(2, asked.Reading.CellIndex);
        Assert.Contains("nothing tells which", asked.Reason, StringComparison.Ordinal);

        // Read again and the same: it is not that one.
        session.AnswerSlip(SlipAnswer.ReadAgain).Require();
        Read(session, "0.3");
        Assert.Equal(1, Assert.IsType<Need.SlipQuestion>(session.Needs).Reading.CellIndex);
    }

    [Fact]
    public void A_finding_names_its_readings_by_the_numbers_of_their_sheets()
    {
        using var journal = SessionScene.Journal();
        var session = AlongY(journal, "0.01", "0", "0.3");
        session.AnswerSlip(SlipAnswer.Keep).Require();
        Answers.UntilReading(session, (need, on) => need is Need.Number && on.Number("0.05", 0.05).Require() is not null);
        var finding = session.Evaluate().Require();

        Assert.Contains("reading 3 (0.3)", finding.Remarks[0], StringComparison.Ordinal);
        Assert.Equal(
            ["3 (arm locked, Y moved by +50 mm from the middle)", "2 (arm locked, Y in the middle)", "1 (arm locked, Y moved by -50 mm from the middle)"],
            finding.Suspects.Select(suspect => suspect.Called!).Take(3));
        Assert.Contains("reading 2 (arm locked, Y in the middle)", FindingText.Lines(finding, 0.95).First(line => line.Contains("look at reading 2", StringComparison.Ordinal)), StringComparison.Ordinal);
    }

    [Fact]
    public void A_sweep_is_highest_where_its_picture_is_and_the_lean_is_told_beside_it()
    {
        using var journal = SessionScene.Journal();
        var session = AlongY(journal, "0.01", "0", "-0.01");
        Answers.UntilReading(session, (need, on) => need is Need.Number && on.Number("0.05", 0.05).Require() is not null);
        var finding = session.Evaluate().Require();

        // Own arithmetic: the sums of these heights with cosine and sine are 0.0583 and -0.0241, so the wave is highest at 337.5 degrees; the slopes of the lines turn that.
        Assert.Contains(finding.Remarks, remark => Regex.IsMatch(remark, "^The sweep is highest at 33[78] degrees, by 0.032 mm over the circle. Less the slope of the surface .* so the spindle leans"));
    }
}
