using System.Collections.Immutable;
using Commission.Core.Characteristics;
using Commission.Core.Instruments;
using Commission.Core.Machines;

namespace Commission.Core.History;

/// <summary>The words under which closed lists stand in the journal. Fixed here, so that a rename in code changes no file.</summary>
internal sealed class JournalWords<T>
    where T : struct, Enum
{
    private readonly ImmutableArray<(T Value, string Word)> table;

    internal JournalWords(params ReadOnlySpan<(T Value, string Word)> words) => table = [.. words];

    internal string this[T value] => table.First(pair => EqualityComparer<T>.Default.Equals(pair.Value, value)).Word;

    internal string All => string.Join(", ", table.Select(pair => pair.Word));

    internal bool TryRead(string word, out T value)
    {
        var found = table.FirstOrDefault(pair => pair.Word == word);
        value = found.Value;
        return found.Word is not null;
    }
}

/// <summary>One table for each closed list.</summary>
internal static class JournalWords
{
    internal static readonly JournalWords<StoreNature> Nature = new((StoreNature.Real, "real"), (StoreNature.Practice, "practice"));

    internal static readonly JournalWords<AxisName> Axis = new((AxisName.X, "X"), (AxisName.Y, "Y"), (AxisName.Z, "Z"));

    internal static readonly JournalWords<DriveKind> Drive = new(
        (DriveKind.Unknown, "unknown"), (DriveKind.Screw, "screw"), (DriveKind.Belt, "belt"), (DriveKind.Rack, "rack"));

    internal static readonly JournalWords<Known> Known = new(
        (Machines.Known.Unknown, "unknown"), (Machines.Known.Yes, "yes"), (Machines.Known.No, "no"));

    internal static readonly JournalWords<PairSetting> Pair = new(
        (PairSetting.Unknown, "unknown"), (PairSetting.One, "one"), (PairSetting.Two, "two"));

    internal static readonly JournalWords<Switches> Switches = new(
        (Machines.Switches.Unknown, "unknown"), (Machines.Switches.None, "none"), (Machines.Switches.Home, "home"), (Machines.Switches.BothEnds, "both-ends"));

    internal static readonly JournalWords<HomeEnd> Home = new((HomeEnd.Unknown, "unknown"), (HomeEnd.Low, "low"), (HomeEnd.High, "high"));

    internal static readonly JournalWords<Compensation> Compensation = new(
        (Machines.Compensation.Unknown, "unknown"), (Machines.Compensation.None, "none"), (Machines.Compensation.Millimetres, "mm"), (Machines.Compensation.Steps, "steps"));

    internal static readonly JournalWords<RatioSetting> Ratio = new(
        (RatioSetting.Unknown, "unknown"), (RatioSetting.StepsPerMm, "steps-per-mm"), (RatioSetting.StepsPerInch, "steps-per-inch"),
        (RatioSetting.MmPerStep, "mm-per-step"), (RatioSetting.StepsPerTurnAndLead, "steps-per-turn-and-lead"));

    internal static readonly JournalWords<WorkClass> Class = new(
        (WorkClass.Unknown, "unknown"), (WorkClass.Wood, "wood"), (WorkClass.Plastics, "plastics"), (WorkClass.Aluminium, "aluminium"));

    internal static readonly JournalWords<LengthUnit> Units = new((LengthUnit.Millimetre, "mm"), (LengthUnit.Inch, "in"));

    internal static readonly JournalWords<SpindleKind> Spindle = new(
        (SpindleKind.Unknown, "unknown"), (SpindleKind.RouterWithDial, "router-with-dial"), (SpindleKind.Spindle, "spindle"), (SpindleKind.None, "none"));

    internal static readonly JournalWords<InstrumentKind> Instrument = new(
        (InstrumentKind.CaliperDigital, "caliper-digital"), (InstrumentKind.CaliperVernier, "caliper-vernier"), (InstrumentKind.Indicator, "indicator"),
        (InstrumentKind.Tape, "tape"), (InstrumentKind.Rule, "rule"), (InstrumentKind.LengthStandard, "length-standard"), (InstrumentKind.Square, "square"),
        (InstrumentKind.SpringBalance, "spring-balance"), (InstrumentKind.Multimeter, "multimeter"), (InstrumentKind.Other, "other"));

    internal static readonly JournalWords<Verdict> Verdict = new(
        (Characteristics.Verdict.None, "none"), (Characteristics.Verdict.Within, "within"), (Characteristics.Verdict.Outside, "outside"), (Characteristics.Verdict.Undecided, "undecided"));

    internal static readonly JournalWords<LimitFrom> LimitFrom = new(
        (Characteristics.LimitFrom.Request, "request"), (Characteristics.LimitFrom.Procedure, "procedure"), (Characteristics.LimitFrom.Class, "class"));

    internal static readonly JournalWords<AdviceAction> Advice = new(
        (AdviceAction.Leave, "leave"), (AdviceAction.Change, "change"), (AdviceAction.MeasureMore, "measure-more"), (AdviceAction.FindTheFault, "find-the-fault"));
}
