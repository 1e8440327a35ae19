using Commission.Core.Procedures;
using Commission.Tests;
using Commission.Workshop.Sessions;

namespace Commission.Workshop.Tests.Sessions;

/// <summary>What follows after a correction: the next one, a description anew, a run that was put aside meanwhile.</summary>
public sealed class SecondCorrectionTests
{
    // Found in use: a second correction was reckoned from the ratio of the first description and took the first one back.
    [Theory]
    [InlineData(RatioSetting.StepsPerMm, "stepsPerMm", 319.5, 319.5, "steps/mm")]
    [InlineData(RatioSetting.StepsPerInch, "stepsPerInch", 8115.3, 319.5, "steps/in")]
    [InlineData(RatioSetting.MmPerStep, "mmPerStep", 0.00313, 319.4888, "mm/step")]
    public void A_second_correction_begins_at_the_value_that_the_first_one_left_in_the_controller(RatioSetting setting, string name, double told, double perMm, string unit)
    {
        using var journal = SessionScene.Journal();
        var described = SessionScene.Heron with { X = SessionScene.Screw with { Drive = DriveKind.Unknown, Grade = null, TravelPerTurnMm = null, Setting = setting, SettingDecimals = 9 } };
        journal.Append(new EntryBody.MachineDescribed(described, Retired: false) { Machine = "Heron" }).Require();
        journal.Append(new EntryBody.SettingWritten { Machine = "Heron", Name = name, Axis = "X", Before = 320, After = told, Stage = "told" }).Require();
        var machine = Ledger.From(journal.Entries()).Machines["Heron"].Description;
        Assert.Equal(perMm, machine.X.StepsPerMm!.Value, 3);
        Assert.Equal(320, machine.Y.StepsPerMm);
        var finding = Answers.Scale(SessionScene.Open(journal, "axis-scale", AxisName.X, Invented.Caliper, machine), 1600e-6);
        Assert.Equal((unit, told), (finding.Advice.Setting!.ExpressedAs, Math.Round(finding.Advice.Setting.Current, 6)));
        Assert.Equal(setting == RatioSetting.MmPerStep ? told * 1.0016 : told / 1.0016, finding.Advice.Setting.AsStored, told * 2e-4);
    }

    [Fact]
    public void What_the_owner_described_anew_counts_from_there_on()
    {
        using var journal = SessionScene.Journal();
        journal.Append(new EntryBody.MachineDescribed(SessionScene.Heron, Retired: false) { Machine = "Heron" }).Require();
        journal.Append(new EntryBody.SettingWritten { Machine = "Heron", Name = "stepsPerMm", Axis = "X", Before = 320, After = 319.5, Stage = "intended" }).Require();
        Assert.Equal(320, Ledger.From(journal.Entries()).Machines["Heron"].Description.X.StepsPerMm);
        journal.Append(new EntryBody.SettingWritten { Machine = "Heron", Name = "stepsPerMm", Axis = "X", Before = 320, After = 319.5, ReadBack = 319.5, Stage = "read-back" }).Require();
        Assert.Equal(319.5, Ledger.From(journal.Entries()).Machines["Heron"].Description.X.StepsPerMm);
        journal.Append(new EntryBody.MachineDescribed(SessionScene.Heron, Retired: false) { Machine = "Heron" }).Require();
        Assert.Equal(320, Ledger.From(journal.Entries()).Machines["Heron"].Description.X.StepsPerMm);
    }

    // Found in review: readings by the old ratio and by the new one were fitted together, and the advice went out from the old one.
    [Fact]
    public void A_run_with_readings_is_not_gone_on_with_after_its_axis_was_corrected_and_begins_anew()
    {
        using var journal = SessionScene.Journal();
        journal.Append(new EntryBody.MachineDescribed(SessionScene.Heron, Retired: false) { Machine = "Heron" }).Require();
        var session = SessionScene.Open(journal, "axis-scale", AxisName.X, Invented.Caliper);
        Answers.UntilReading(session);
        for (var i = 0; i < 6; i++) session.Read("r", Answers.Axis((Need.TakeReading)session.Needs)).Require();
        // Another axis has nothing to do with it, nor has the same value told again.
        foreach (var (axis, told) in new[] { ("Y", 300.7), ("X", 320) })
            journal.Append(new EntryBody.SettingWritten { Machine = "Heron", Name = "stepsPerMm", Axis = axis, Before = 320, After = told, Stage = "told" }).Require();
        Assert.True(Opened(resume: true).Require().Resumed);
        journal.Append(new EntryBody.SettingWritten { Machine = "Heron", Name = "stepsPerMm", Axis = "X", Before = 320, After = 321.4, Stage = "told" }).Require();
        var problem = Assert.IsType<Core.Outcome<ProcedureSession>.Bad>(Opened(resume: true)).Problems.Single();
        Assert.StartsWith("the readings of the unfinished run were taken with 320 steps per mm on X, and now it is 321.4", problem.What, StringComparison.Ordinal);
        Assert.Equal(321.4, Answers.Scale(Opened(resume: false).Require(), 1600e-6).Advice.Setting?.Current ?? 321.4);

        Core.Outcome<ProcedureSession> Opened(bool resume) => ProcedureSession.Open(
            journal, SessionScene.Request("axis-scale", AxisName.X, Invented.Caliper, Ledger.From(journal.Entries()).Machines["Heron"].Description) with { Resume = resume });
    }

    // Found in review: facts told after a correction wrote the whole machine back as it was when the run began.
    [Fact]
    public void Facts_told_in_a_run_that_was_put_aside_leave_what_was_corrected_meanwhile()
    {
        using var journal = SessionScene.Journal();
        var asked = SessionScene.Heron with { Y = SessionScene.Screw with { Drive = DriveKind.Unknown } };
        journal.Append(new EntryBody.MachineDescribed(asked, Retired: false) { Machine = "Heron" }).Require();
        var session = SessionScene.Open(journal, "nominal-steps", axis: null, machine: asked);
        var ratio = false;
        UntilDriveOf("Y", session);
        Assert.True(ratio);
        Assert.Equal(319, Described().X.StepsPerMm);
        session.Leave("put-aside", "later").Require();
        journal.Append(new EntryBody.SettingWritten { Machine = "Heron", Name = "stepsPerMm", Axis = "X", Before = 319, After = 321.4, Stage = "told" }).Require();
        // Taken up, left after an answer, and taken up once more: the answers before the correction are not told again.
        for (var i = 0; i < 2; i++)
        {
            session = SessionScene.Open(journal, "nominal-steps", axis: null, machine: Described());
            Assert.True(session.Resumed);
            if (i == 0) session.Choose("belt").Require();
            Assert.Equal((321.4, DriveKind.Belt, 320), (Described().X.StepsPerMm, Described().Y.Drive, Described().Z.StepsPerMm));
        }

        Machine Described() => Ledger.From(journal.Entries()).Machines["Heron"].Description;

        void UntilDriveOf(string axis, ProcedureSession run)
        {
            for (var i = 0; i < 100 && !(run.Needs is Need.Choose choose && choose.Text.Contains($"motor of {axis} into", StringComparison.Ordinal)); i++)
            {
                if (run.Needs is Need.Number number && number.Text.Contains("Which steps per mm", StringComparison.Ordinal))
                    (ratio, _) = (true, run.Number("319", 319).Require());
                else
                    Answers.Usual(run);
            }
        }
    }

    // Marks that were made by the old ratio are read where they are: a run of the whole machine that is gone on with keeps the plan it was begun with.
    [Fact]
    public void A_run_of_the_whole_machine_that_is_gone_on_with_after_a_correction_keeps_its_plan()
    {
        using var journal = SessionScene.Journal();
        journal.Append(new EntryBody.MachineDescribed(SessionScene.Heron, Retired: false) { Machine = "Heron" }).Require();
        var session = SessionScene.Open(journal, "diagonals", axis: null, SessionScene.Tape);
        Answers.UntilReading(session);
        session.Read("500", 500).Require();
        var cells = session.Run.Cells.Select(cell => cell.Given["x2_mm"]).ToArray();
        journal.Append(new EntryBody.SettingWritten { Machine = "Heron", Name = "stepsPerMm", Axis = "X", Before = 320, After = 300.7, Stage = "told" }).Require();
        var now = Ledger.From(journal.Entries()).Machines["Heron"].Description;
        var again = ProcedureSession.Open(journal, SessionScene.Request("diagonals", axis: null, SessionScene.Tape, now) with { Resume = true }).Require();
        Assert.True(again.Resumed);
        Assert.Equal(cells, again.Run.Cells.Select(cell => cell.Given["x2_mm"]));
        Assert.Single(again.Run.Readings);
    }
}
