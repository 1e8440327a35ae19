using System.Globalization;
using Commission.Core.Characteristics;
using Commission.Core.Instruments;
using Commission.Core.Procedures;
using Commission.Tests;
using Commission.Workshop.Sessions;
using Microsoft.Extensions.Time.Testing;

namespace Commission.Workshop.Tests.Sessions;

/// <summary>Shipped procedures opened on described machines, for tests at the level of a session.</summary>
internal static class SessionScene
{
    public static Instrument Indicator { get; } = new("indicator", InstrumentKind.Indicator, 0.015, 0.01, 10, "invented");

    public static Instrument Tape { get; } = new("tape", InstrumentKind.Tape, 0.5, 0.5, 3000, "invented");

    public static Instrument Rule { get; } = new("rule", InstrumentKind.Rule, 0.2, 0.5, 300, "invented");

    public static AxisDescription Screw { get; } = new()
    {
        Drive = DriveKind.Screw, TravelPerTurnMm = 5, StepsPerMm = 320, Grade = 7, Motors = 1, Switches = Switches.Home,
        Compensation = Compensation.Millimetres, Setting = RatioSetting.StepsPerMm, SettingDecimals = 3,
    };

    public static Machine Heron { get; } = new()
    {
        Name = "Heron", TravelMm = [420, 580, 90], Class = WorkClass.Plastics, GantryAxis = AxisName.Y, DriveWidthMm = 520, X = Screw, Y = Screw, Z = Screw,
    };

    public static MemoryJournal Journal() => new(StoreNature.Real, "abc123", "test", new FakeTimeProvider());

    public static SessionRequest Request(string id, AxisName? axis, Instrument? instrument = null, Machine? machine = null) => new()
    {
        Procedure = ShippedProcedures.Read(id),
        ProcedureHash = "h1", Instruments = [Invented.Caliper, Indicator, Tape], Machine = machine ?? Heron, Axis = axis, Instrument = instrument, Operator = "M",
        Owned = [InstrumentKind.CaliperDigital, InstrumentKind.Indicator, InstrumentKind.Tape],
    };

    public static ProcedureSession Open(IJournal journal, string id, AxisName? axis, Instrument? instrument = null, Machine? machine = null) =>
        ProcedureSession.Open(journal, Request(id, axis, instrument, machine)).Require();
}

/// <summary>Answers to what a session asks, as somebody gives them on a machine with nothing wrong unless a test says otherwise.</summary>
internal static class Answers
{
    private static readonly double[] Hand = [0.012, -0.008, 0.004, -0.013, 0.009, -0.004, 0.011, -0.01, 0.003, -0.006];

    /// <summary>Answers everything up to the next reading, evaluation or end.</summary>
    public static void UntilReading(ProcedureSession session, Func<Need, ProcedureSession, bool>? otherwise = null)
    {
        for (var i = 0; i < 400 && session.Needs is not (Need.TakeReading or Need.Evaluate or Need.Ended); i++)
        {
            if (otherwise?.Invoke(session.Needs, session) != true) Usual(session);
        }
    }

    /// <summary>The usual answer to one need that is no reading and no evaluation.</summary>
    public static void Usual(ProcedureSession session)
    {
        switch (session.Needs)
        {
            case Need.HazardsFirst: session.HazardsRead().Require(); break;
            case Need.Choose choose: session.Choose(choose.Default ?? choose.Options[0].Word).Require(); break;
            case Need.Number: session.Number(Number(session.Run), double.Parse(Number(session.Run), CultureInfo.InvariantCulture)).Require(); break;
            case Need.Line: session.Text("").Require(); break;
            case Need.Change: session.LeaveChange().Require(); break;
            case Need.SlipQuestion: session.AnswerSlip(SlipAnswer.Keep).Require(); break;
            default: session.Confirm().Require(); break;
        }
    }

    /// <summary>A perfect axis with a lost motion of 0.04 mm, read to 0.01 mm with an honest hand, stretched where a test says so.</summary>
    public static double Axis(Need.TakeReading need, double stretch = 0)
    {
        var side = need.Cell.Words.TryGetValue("direction", out var word) ? word == "+" ? -0.02 : 0.02 : 0;
        var commanded = need.Cell.Given["commanded_mm"];
        return Math.Round((commanded * (1 + stretch)) - (need.Of == 10 ? 135 : 0) + side + Hand[need.Index % Hand.Length], 2);
    }

    /// <summary>The scale of an axis to its finding.</summary>
    public static Finding Scale(ProcedureSession session, double stretch)
    {
        UntilReading(session);
        while (session.Needs is Need.TakeReading need) session.Read("r", Axis(need, stretch)).Require();
        UntilReading(session);
        return session.Evaluate().Require();
    }

    private static string Number(ProcedureRun run) => run.Current?.Step switch
    {
        Step.Check { Limits: [Limit.Between between, ..] } => ((between.Low + between.High) / 2).ToString("R", CultureInfo.InvariantCulture),
        Step.Check { Limits: [Limit.Near { IsReading: true } near, ..] } => run.FirstOf(near.To)!.Value.ToString("R", CultureInfo.InvariantCulture),
        _ => "1",
    };
}
