using System.Collections.Immutable;
using Commission.Core.History;
using Commission.Core.Machines;
using Commission.Core.Procedures;

namespace Commission.Core.Reports;

/// <summary>What a run asked and stated, out of the text of its procedure as it was then: found by id and hash, else the reason why there is none.</summary>
internal sealed class RunTexts
{
    private readonly ReportScope scope;
    private readonly EntryBody.RunStarted? started;
    private readonly Procedure? procedure;
    private readonly Dictionary<string, RunItem> items = [];

    /// <summary>The texts of a run.</summary>
    /// <param name="scope">What the report tells of, with the procedures at hand.</param>
    /// <param name="run">The run; null outside runs, and where it is not known.</param>
    public RunTexts(ReportScope scope, RunRecord? run)
    {
        (this.scope, started) = (scope, run?.Started.Body);
        procedure = started is null ? null : scope.Procedures(started.Procedure, started.ProcedureHash);
        if (procedure is null)
            return;
        // Rungs of a ladder that begins at a value of the run are not written out here: their steps are found by name.
        foreach (var item in RunItems.Of(procedure, MachineWords.Axis(started!.Axis), term => term.Number))
            items.TryAdd(item.Name, item);
    }

    /// <summary>Why there is no text; null where there is one.</summary>
    public string? WhyNone => procedure is not null ? null
        : started is null ? "it was not asked in a run that this report knows"
        : $"the text of {started.Procedure} with the hash {started.ProcedureHash[..Math.Min(started.ProcedureHash.Length, 12)]} is not carried in this program";

    /// <summary>The hazards that were shown before the first step, each with what to do about it.</summary>
    public ImmutableArray<string> Hazards => procedure is null ? [] : [.. procedure.Hazards.Select(hazard => scope.Units.Told($"{OneLine(hazard.What)} {OneLine(hazard.Do)}"))];

    /// <summary>What a step asked or stated; null where there is no text.</summary>
    /// <param name="step">Path of the step in the run.</param>
    public string? Of(string step) => Step(step) is var (found, texts) && found.Texts.FirstOrDefault() is { } text
        ? scope.Units.Told(Placeholders.Fill(OneLine(text), name => texts.GetValueOrDefault(name) ?? (name == "machine" ? scope.Machine.Name : $"'{name}'"))) : null;

    private (Step Step, ImmutableSortedDictionary<string, string> Texts)? Step(string path)
    {
        if (items.TryGetValue(path, out var item))
            return (item.Step, item.Scope.Texts);
        var name = path[(path.LastIndexOf('/') + 1)..];
        var texts = started?.Axis is { } axis ? ImmutableSortedDictionary<string, string>.Empty.Add("axis", axis) : ImmutableSortedDictionary<string, string>.Empty;
        return procedure?.AllSteps.FirstOrDefault(step => step.Name == name) is { } found ? (found, texts) : null;
    }

    private static string OneLine(string text) => string.Join(' ', text.Split('\n', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries));
}
