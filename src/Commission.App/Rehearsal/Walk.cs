using System.Collections.Immutable;
using Commission.Core;
using Commission.Core.History;
using Commission.Core.Instruments;
using Commission.Core.Machines;
using Commission.Core.Procedures;
using Commission.Practice.Bench;
using Commission.Practice.Instruments;
using Commission.Practice.Machines;
using Commission.Workshop.Ports;
using Commission.Workshop.Sessions;

namespace Commission.App.Rehearsal;

/// <summary>A procedure with the hash of its text.</summary>
/// <param name="Procedure">The procedure.</param>
/// <param name="Hash">Hash of its text.</param>
internal sealed record WalkStation(Procedure Procedure, string Hash);

/// <summary>Carries procedures out on the practice machine without a terminal: the same sessions, answered by the simulated operator.</summary>
/// <param name="journal">The journal; it must belong to a practice store.</param>
/// <param name="output">Where steps, readings, findings and the closing comparison are printed.</param>
internal sealed class Walk(IJournal journal, TextWriter output)
{
    private const string Operator = "practice";

    /// <summary>The order of work: what later results rest on comes first.</summary>
    public static ImmutableArray<string> Order { get; } =
    [
        "readiness", "nominal-steps", "ratio-check", "switch-logic", "homing", "speed-ladder", "gauge-study", "frame-twist", "rails", "reference-corner",
        "backlash", "stiffness", "axis-scale", "periodic-error", "diagonals", "distance-network", "plate", "square-reversal", "home-offset", "tram",
        "surfacing", "bed-map", "z-square", "z-axis", "runout", "insert-grid", "test-cut", "speed-under-load", "noise", "recheck", "yearly-check",
    ];

    /// <summary>Walks.</summary>
    /// <param name="stations">The procedures in order.</param>
    /// <param name="bench">The practice machine with its operator.</param>
    /// <param name="seed">Seed of the plans.</param>
    /// <returns>What was found beside what is true; problems where the journal refuses or a run cannot be carried out.</returns>
    public Outcome<ImmutableArray<WalkResult>> Run(IEnumerable<WalkStation> stations, PracticeBench bench, ulong seed)
    {
        if (journal.Nature != StoreNature.Practice)
            return new Problem("the store belongs to a real machine", "Name another folder with --store, or leave --keep out");
        var front = new WalkFront(bench, output);
        if (Describe(bench) is { } refused)
            return new Outcome<ImmutableArray<WalkResult>>.Bad(refused);
        foreach (var station in stations)
        {
            foreach (var axis in AxesOf(station.Procedure))
            {
                if (Visit(station, axis, seed, front, bench) is { } problems)
                    return new Outcome<ImmutableArray<WalkResult>>.Bad(problems);
            }
        }

        foreach (var result in front.Results)
            output.WriteLine(result.Words);
        return ImmutableArray.CreateRange(front.Results);
    }

    private static AxisName?[] AxesOf(Procedure procedure) =>
        procedure.ForOneAxis ? [AxisName.X, AxisName.Y, AxisName.Z] : [null];

    private ImmutableArray<Problem>? Visit(WalkStation station, AxisName? axis, ulong seed, WalkFront front, PracticeBench bench)
    {
        output.WriteLine(axis is null ? $"== {station.Procedure.Title}" : $"== {station.Procedure.Title}, {axis}");
        var opened = ProcedureSession.Open(journal, new SessionRequest
        {
            Procedure = station.Procedure,
            ProcedureHash = station.Hash,
            Machine = HeronMachine.Description,
            Axis = axis,
            Instrument = InstrumentFor(station.Procedure, bench),
            Owned = [.. Owned],
            Operator = Operator,
            Seed = (long)(seed & long.MaxValue),
            Resume = false,
        });
        // A procedure that does not apply to this machine or axis is passed over with its reason, as a person would.
        if (opened is Outcome<ProcedureSession>.Bad(var reasons))
        {
            foreach (var reason in reasons)
                output.WriteLine($"passed over: {reason}");
            return null;
        }

        return front.Carry(opened.Require()).Match(
            how =>
            {
                output.WriteLine($"ended: {how}");
                return (ImmutableArray<Problem>?)null;
            },
            problems => problems);
    }

    private ImmutableArray<Problem>? Describe(PracticeBench bench)
    {
        EntryBody[] entries =
        [
            new EntryBody.OperatorEntered(Operator),
            new EntryBody.MachineDescribed(HeronMachine.Description, Retired: false),
            .. new[] { Caliper(bench), Indicator(bench), Tape(bench) }.Select(instrument => new EntryBody.InstrumentDescribed(instrument, Retired: false)),
        ];
        foreach (var entry in entries)
        {
            if (journal.Append(entry) is Outcome<JournalEntry>.Bad(var problems))
                return problems;
        }

        return null;
    }

    private static InstrumentKind[] Owned { get; } =
    [
        InstrumentKind.CaliperDigital, InstrumentKind.Indicator, InstrumentKind.Tape, InstrumentKind.Square, InstrumentKind.SpringBalance,
        InstrumentKind.Multimeter,
    ];

    private static Instrument? InstrumentFor(Procedure procedure, PracticeBench bench)
    {
        foreach (var kind in procedure.Instruments.SelectMany(need => need.Kinds))
        {
            switch (kind)
            {
                case InstrumentKind.CaliperDigital: return Caliper(bench);
                case InstrumentKind.Indicator: return Indicator(bench);
                case InstrumentKind.Tape: return Tape(bench);
                default: continue;
            }
        }

        return null;
    }

    private static Instrument Caliper(PracticeBench bench) => Described(bench.Caliper, InstrumentKind.CaliperDigital);

    private static Instrument Indicator(PracticeBench bench) => Described(bench.Indicator, InstrumentKind.Indicator);

    private static Instrument Tape(PracticeBench bench) => Described(bench.Tape, InstrumentKind.Tape);

    private static Instrument Described(PracticeInstrument instrument, InstrumentKind kind) =>
        new(instrument.Name, kind, instrument.LimitMm, instrument.ResolutionMm, instrument.RangeMm, "practice, invented");
}
