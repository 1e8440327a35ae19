using Commission.Core.Characteristics;
using Commission.Core.Instruments;
using Commission.Core.Machines;
using Commission.Core.Procedures;

namespace Commission.Workshop.Requests;

/// <summary>Which instrument of the kit a procedure is done with.</summary>
public static class KitChoice
{
    /// <summary>The one that was asked for, where the procedure can use it; else the best kind the procedure names first, and of one kind the one last described.</summary>
    /// <param name="procedure">The procedure.</param>
    /// <param name="kit">What the owner has.</param>
    /// <param name="preferred">Name of the one that was asked for; null for none.</param>
    /// <param name="machine">The machine, whose marks a caliper may be too short for; null where that was judged before.</param>
    public static Instrument? For(Procedure procedure, IReadOnlyList<Instrument> kit, string? preferred, Machine? machine = null)
    {
        var kinds = procedure.Instruments.SelectMany(need => need.Kinds).ToList();
        var longest = machine is null ? null : LongestMm(procedure, machine);
        var able = kit.Where(known => procedure.Instruments.Any(need => need.IsServedBy(known)) && Reaches(known, longest)).ToList();
        return able.Find(known => known.Name == preferred) ?? kinds.Select(kind => able.FindLast(known => known.Kind == kind)).FirstOrDefault(known => known is not null);
    }

    /// <summary>Whether what a procedure finds has no uncertainty unless an instrument is named. A study of the hand finds it by itself.</summary>
    /// <param name="procedure">The procedure.</param>
    public static bool IsWithoutU(Procedure procedure) => !procedure.Instruments.IsEmpty
        && procedure.AllSteps.OfType<Step.Evaluate>().Any(evaluate => CharacteristicKinds.Find(evaluate.Kind) is { IsHandStudy: false });

    /// <summary>The longest distance between marks over the travel that a procedure reads, mm; null where it reads none: a sheet's are fitted to the instrument.</summary>
    public static double? LongestMm(Procedure procedure, Machine machine)
    {
        var distances = procedure.AllSteps.OfType<Step.Read>().Select(read => read.Grid).OfType<Grid.Distances>().Where(grid => grid.Sheet is null).SelectMany(grid =>
        {
            var marks = MarkPlan.Marks(grid, machine, null).ToDictionary(mark => mark.Name, StringComparer.Ordinal);
            return grid.Ways.Select(way => Math.Sqrt(Math.Pow(marks[way.From].XMm - marks[way.To].XMm, 2) + Math.Pow(marks[way.From].YMm - marks[way.To].YMm, 2)));
        }).ToList();
        return distances.Count == 0 ? null : distances.Max();
    }

    private static bool Reaches(Instrument known, double? longest) => longest is not { } most || known.Kind is not (InstrumentKind.CaliperDigital or InstrumentKind.CaliperVernier or InstrumentKind.Rule or InstrumentKind.Tape)
        || GridPlan.RangeOf(known) is not { } range || range >= most;
}
