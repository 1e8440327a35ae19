using System.Collections.Immutable;
using Commission.Core;
using Commission.Core.History;
using Commission.Core.Instruments;
using Commission.Core.Machines;
using Commission.Core.Procedures;
using Commission.Practice.Bench;
using Commission.Practice.Instruments;
using Commission.Workshop.Ports;
using Commission.Workshop.Sessions;

namespace Commission.App.Rehearsal;

/// <summary>A procedure with the hash of its text.</summary>
/// <param name="Procedure">The procedure.</param>
/// <param name="Hash">Hash of its text.</param>
/// <param name="Axis">The only axis it is carried out for; null for each axis in turn.</param>
internal sealed record WalkStation(Procedure Procedure, string Hash, AxisName? Axis = null);

/// <summary>Carries procedures out on the practice machine without a terminal: the same sessions, answered by the simulated operator.</summary>
/// <param name="journal">The journal; it must belong to a practice store.</param>
/// <param name="output">Where steps, readings, findings and the closing comparison are printed.</param>
internal sealed class Walk(IJournal journal, TextWriter output)
{
    private const string Operator = "practice";

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
        var record = new PracticeRecord(journal, seed);
        if ((Describe(bench) ?? record.Keep(bench)) is { } refused)
            return new Outcome<ImmutableArray<WalkResult>>.Bad(refused);
        foreach (var station in stations)
        {
            foreach (var axis in AxesOf(station))
            {
                if ((Visit(station, axis, seed, front, bench) ?? record.Keep(bench)) is { } problems)
                    return new Outcome<ImmutableArray<WalkResult>>.Bad(problems);
            }
        }

        foreach (var result in front.Results)
            output.WriteLine(result.Words);
        return ImmutableArray.CreateRange(front.Results);
    }

    private static AxisName?[] AxesOf(WalkStation station) => station switch
    {
        { Procedure.ForOneAxis: false } => [null],
        { Axis: { } one } => [one],
        _ => [AxisName.X, AxisName.Y, AxisName.Z],
    };

    private ImmutableArray<Problem>? Visit(WalkStation station, AxisName? axis, ulong seed, WalkFront front, PracticeBench bench)
    {
        output.WriteLine(axis is null ? $"== {station.Procedure.Title}" : $"== {station.Procedure.Title}, {axis}");
        var ledger = Ledger.From(journal.Entries());
        var instrument = InstrumentFor(station.Procedure, bench);
        var opened = ProcedureSession.Open(journal, new SessionRequest
        {
            Procedure = station.Procedure,
            ProcedureHash = station.Hash,
            Machine = AsSet(ledger.Machines[bench.Machine.Description.Name].Described.Body.Description, bench),
            Axis = axis,
            Instrument = instrument,
            Hand = ledger.Hand(Operator, instrument?.Name)?.Body.Study,
            Instruments = [Caliper(bench), Indicator(bench), Tape(bench)],
            Owned = [.. Owned],
            Operator = Operator,
            Seed = (long)(seed & long.MaxValue),
            Resume = true,
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

    // The owner knows what is set now, whatever the description said when it was written.
    private static Machine AsSet(Machine machine, PracticeBench bench)
    {
        var steps = bench.Machine.Settings.StepsPerMm;
        return machine with
        {
            X = machine.X with { StepsPerMm = steps[0] },
            Y = machine.Y with { StepsPerMm = steps[1] },
            Z = machine.Z with { StepsPerMm = steps[2] },
        };
    }

    // What a kept store holds already is not written again.
    private ImmutableArray<Problem>? Describe(PracticeBench bench)
    {
        var ledger = Ledger.From(journal.Entries());
        EntryBody[] entries =
        [
            new EntryBody.OperatorEntered(Operator),
            new EntryBody.MachineDescribed(bench.Machine.Description, Retired: false),
            .. new[] { Caliper(bench), Indicator(bench), Tape(bench) }.Select(instrument => new EntryBody.InstrumentDescribed(instrument, Retired: false)),
        ];
        bool IsNew(EntryBody entry) => entry switch
        {
            EntryBody.OperatorEntered body => !ledger.Operators.Contains(body.Handle),
            EntryBody.MachineDescribed body => !ledger.Machines.ContainsKey(body.Description.Name),
            EntryBody.InstrumentDescribed body => !ledger.Instruments.ContainsKey(body.Description.Name),
            _ => true,
        };
        foreach (var entry in entries.Where(IsNew))
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
