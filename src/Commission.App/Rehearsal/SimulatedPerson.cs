using System.Globalization;
using Commission.Core;
using Commission.Core.Characteristics;
using Commission.Core.Machines;
using Commission.Core.Procedures;
using Commission.Practice.Bench;
using Commission.Practice.Machines;

namespace Commission.App.Rehearsal;

/// <summary>The simulated operator at a procedure: knows which test each reading belongs to, types what the instruments show, and does what is advised.</summary>
internal sealed class SimulatedPerson(PracticeBench bench, Notebook notebook)
{
    // Seven tenths of the last clean rung, as the procedure asks.
    private const double Reserve = 0.7;

    private const double LeafMm = 0.02;

    private readonly HashSet<string> _prepared = [];
    private readonly PersonAnswers _answers = new(bench, notebook);
    private double _largestSinceVerdict;

    /// <summary>What is typed as the reading of a cell; a problem where the practice machine has nothing of the kind to read.</summary>
    public Outcome<string> Reading(Need.TakeReading need, ProcedureRun run)
    {
        Cell CellOf(Core.Plans.PlanCell cell, int index) => BenchTests.CellOf(run, need.Group, cell, index, run.Cells.Length);
        var asked = CellOf(need.Cell, need.Index);
        if (!bench.Knows(asked.Characteristic))
        {
            return new Problem($"the practice machine knows no readings of '{need.Group}' in '{run.Procedure.Id}'",
                "Walk the other procedures by name, or take the readings yourself");
        }

        if (_prepared.Add(need.Step))
            bench.Prepare([.. run.Cells.Select(CellOf)]);
        var typed = bench.Read(asked);
        _largestSinceVerdict = Math.Max(_largestSinceVerdict, Math.Abs(double.Parse(typed, CultureInfo.InvariantCulture)));
        return typed;
    }

    /// <summary>The word chosen: what passes; on a ladder whether the axis came back to its mark; otherwise what is usual.</summary>
    public string Choice(Need.Choose need, ProcedureRun run)
    {
        switch (run.Current?.Step)
        {
            case Step.Ladder:
                var clean = _largestSinceVerdict < bench.Machine.State[run.Current.Scope.Axis ?? AxisName.X].LossQuantumMm / 2;
                _largestSinceVerdict = 0;
                return clean ? "yes" : "no";
            case Step.Check { Answer: CheckAnswer.Word { Passes: [var passing, ..] } }:
                return passing;
            case Step.Set set when PersonAnswers.FactOf(set, run) is { } known && need.Options.Any(option => option.Word == known):
                return known;
            default:
                return need.Default ?? need.Options[0].Word;
        }
    }

    /// <summary>A line of text: what lies under Heron's board where rectangles are asked for, else a remark.</summary>
    public static string Line(ProcedureRun run) => run.Current?.Step is Step.Check { Answer: CheckAnswer.Rectangles }
        ? PersonAnswers.Beams(run.Machine)
        : "none";

    /// <summary>The number of a check or of a fact; a problem where it goes into a result and the practice machine has nothing of the kind.</summary>
    public Outcome<string> Number(ProcedureRun run) => _answers.For(run) is { } typed
        ? typed
        : new Problem($"the practice machine has no answer to '{run.Current?.Name}' in '{run.Procedure.Id}'", "Walk the other procedures by name, or answer yourself");

    /// <summary>Does what a step of plain instructions says, where it changes the machine.</summary>
    public void Do(ProcedureRun run)
    {
        switch (run.Procedure.Id, run.Current?.Step.Name)
        {
            case ("speed-ladder", "reserve") when run.Current?.Scope.Axis is { } axis && run.Values.GetValueOrDefault("ladder")?.Number is { } clean:
                bench.Set(bench.Machine.Settings with { MaxRateMmMin = bench.Machine.Settings.MaxRateMmMin.SetItem((int)axis, Reserve * clean) });
                break;
            case ("frame-twist", "shim"):
                // Half the difference of the two gaps is the twist in the middle; a corner is lifted by twice that.
                double Gap(string step) => run.Values.GetValueOrDefault(step)?.Number ?? 0;
                bench.Rework(state => state with { Frame = state.Frame with { TwistMm = state.Frame.TwistMm - (Gap("gap") - Gap("swapped")) } });
                break;
            case ("surfacing", "cut"):
                bench.Rework(state => state with { Bed = BedState.Surfaced });
                break;
        }
    }

    /// <summary>Puts right what a check found out, where hands can; otherwise the run is put aside.</summary>
    /// <returns>Whether the check can be made again.</returns>
    public bool Mend(ProcedureRun run)
    {
        if (notebook.RailsSet || (run.Procedure.Id, run.Current?.Step.Name) is not ("rails", "wide"))
            return false;
        // Pushed until the stick drags alike at both ends: a feeler leaf is left.
        bench.Rework(state => state with { Frame = state.Frame with { RailSpreadMm = LeafMm } });
        return notebook.RailsSet = true;
    }

    /// <summary>Sets a proposed setting on the practice machine, or does with spanner and shims what the finding advises.</summary>
    /// <param name="need">The proposal.</param>
    /// <param name="run">The run.</param>
    /// <param name="place">Place of the finding's key.</param>
    /// <returns>Whether anything was done, and the value as the controller keeps it where it was a setting.</returns>
    public (bool Done, double? Value) Apply(Need.Change need, ProcedureRun run, string? place)
    {
        if (SaysMoveNothing(need))
            return (false, null);
        if (need.Told is not null)
            return Offset(run.Values.GetValueOrDefault("angle")?.Number ?? 0);
        if (need.Proposed is { } setting)
            return Set(setting, run.Setting.Axis) is { } kept ? (true, kept) : (false, null);
        if (need.Finding is not { Advice.Action: AdviceAction.Change, Headline.Value: { } headline } finding)
            return (false, null);
        double Found(string name) => finding.Parameter(name)?.Value ?? 0;
        bool Finds(string name) => finding.Parameter(name) is { Value: not null };
        switch (place)
        {
            case "XZ":
                bench.Rework(state => state with { Frame = state.Frame with { SquarenessXZ = state.Frame.SquarenessXZ - headline } });
                return (true, null);
            case "YZ":
                bench.Rework(state => state with { Frame = state.Frame with { SquarenessYZ = state.Frame.SquarenessYZ - headline } });
                return (true, null);
            case null when Finds("squareness"):
                TurnGantry(Found("squareness"));
                return (true, null);
            case null when Finds("tiltX") && Finds("tiltY"):
                bench.Rework(state => state with
                {
                    Spindle = state.Spindle with { TiltX = state.Spindle.TiltX - Found("tiltX"), TiltY = state.Spindle.TiltY - Found("tiltY") },
                });
                return (true, null);
            default:
                return (false, null);
        }
    }

    // The card is read before anything is touched.
    private static bool SaysMoveNothing(Need.Change need) => need.Text.Split('\n').Any(line => line.TrimStart().StartsWith("Move nothing", StringComparison.Ordinal));

    // Turns the switch's screw by what the angle asks for, and tells where it stands then. An angle that was put right already asks for nothing.
    private (bool, double?) Offset(double angleMmPerM)
    {
        if (angleMmPerM.Equals(0.0))
            return (false, null);
        TurnGantry(angleMmPerM / 1e3);
        return (true, Math.Round(bench.Machine.Settings.GantryOffsetMm, 2));
    }

    private double? Set(ProposedSetting setting, AxisName? chosen)
    {
        if ((MachineWords.Axis(setting.Axis) ?? chosen) is not { } name)
            return null;
        var settings = bench.Machine.Settings;
        switch (setting.Name)
        {
            case "stepsPerMm":
                bench.Set(settings.WithSteps(name, settings.StepsPerMm[(int)name] * setting.AsStored / setting.Current));
                return setting.AsStored;
            case "compensationMm":
                bench.Set(settings.WithCompensation(name, setting.AsStored));
                return setting.AsStored;
            default:
                return null;
        }
    }

    private void TurnGantry(double squareness)
    {
        bench.Set(bench.Machine.Settings with
        {
            GantryOffsetMm = bench.Machine.Settings.GantryOffsetMm + (squareness * bench.Machine.State.DriveWidthMm),
        });
        notebook.Squareness = 0; // put right: nobody does it twice
    }
}
