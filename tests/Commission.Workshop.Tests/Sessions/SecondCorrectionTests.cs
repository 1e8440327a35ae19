using Commission.Core.Characteristics;
using Commission.Core.Machines;
using Commission.Core.Procedures;
using Commission.Workshop.Sessions;
using Xunit;

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
        journal.Append(new Core.History.EntryBody.MachineDescribed(described, Retired: false) { Machine = "Heron" }).Require();
        journal.Append(new Core.History.EntryBody.SettingWritten { Machine = "Heron", Name = name, Axis = "X", Before = 320, After = told, Stage = "told" }).Require();
        var machine = Core.History.Ledger.From(journal.Entries()).Machines["Heron"].Description;
        Assert.Equal(perMm, machine.X.StepsPerMm!.Value, 3);
        Assert.Equal(320, machine.Y.StepsPerMm);
        var finding = Scale(SessionScene.Open(journal, "axis-scale", AxisName.X, SessionScene.Caliper, machine), 1600e-6);
        Assert.Equal((unit, told), (finding.Advice.Setting!.ExpressedAs, Math.Round(finding.Advice.Setting.Current, 6)));
        Assert.Equal(setting == RatioSetting.MmPerStep ? told * 1.0016 : told / 1.0016, finding.Advice.Setting.AsStored, told * 2e-4);
    }

    [Fact]
    public void What_the_owner_described_anew_counts_from_there_on()
    {
        using var journal = SessionScene.Journal();
        journal.Append(new Core.History.EntryBody.MachineDescribed(SessionScene.Heron, Retired: false) { Machine = "Heron" }).Require();
        journal.Append(new Core.History.EntryBody.SettingWritten { Machine = "Heron", Name = "stepsPerMm", Axis = "X", Before = 320, After = 319.5, Stage = "intended" }).Require();
        Assert.Equal(320, Core.History.Ledger.From(journal.Entries()).Machines["Heron"].Description.X.StepsPerMm);
        journal.Append(new Core.History.EntryBody.SettingWritten { Machine = "Heron", Name = "stepsPerMm", Axis = "X", Before = 320, After = 319.5, ReadBack = 319.5, Stage = "read-back" }).Require();
        Assert.Equal(319.5, Core.History.Ledger.From(journal.Entries()).Machines["Heron"].Description.X.StepsPerMm);
        journal.Append(new Core.History.EntryBody.MachineDescribed(SessionScene.Heron, Retired: false) { Machine = "Heron" }).Require();
        Assert.Equal(320, Core.History.Ledger.From(journal.Entries()).Machines["Heron"].Description.X.StepsPerMm);
    }

    // Positions are whole steps: a run that is gone on with keeps the plan it was begun with.
    [Fact]
    public void A_run_that_is_gone_on_with_after_a_correction_keeps_its_plan()
    {
        using var journal = SessionScene.Journal();
        journal.Append(new Core.History.EntryBody.MachineDescribed(SessionScene.Heron, Retired: false) { Machine = "Heron" }).Require();
        var session = SessionScene.Open(journal, "axis-scale", AxisName.X, SessionScene.Caliper);
        Answers.UntilReading(session);
        session.Read("r", Answers.Axis((Need.TakeReading)session.Needs)).Require();
        var cells = session.Run.Cells.Select(cell => cell.Given["commanded_mm"]).ToArray();
        journal.Append(new Core.History.EntryBody.SettingWritten { Machine = "Heron", Name = "stepsPerMm", Axis = "X", Before = 320, After = 300.7, Stage = "told" }).Require();
        var now = Core.History.Ledger.From(journal.Entries()).Machines["Heron"].Description;
        var again = ProcedureSession.Open(journal, SessionScene.Request("axis-scale", AxisName.X, SessionScene.Caliper, now) with { Resume = true }).Require();
        Assert.True(again.Resumed);
        Assert.Equal(cells, again.Run.Cells.Select(cell => cell.Given["commanded_mm"]));
        Assert.Single(again.Run.Readings);
    }

    private static Finding Scale(ProcedureSession session, double stretch)
    {
        Answers.UntilReading(session);
        while (session.Needs is Need.TakeReading need) session.Read("r", Answers.Axis(need, stretch)).Require();
        Answers.UntilReading(session);
        return session.Evaluate().Require();
    }
}
