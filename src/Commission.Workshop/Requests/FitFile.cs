using Commission.Core;
using Commission.Core.Characteristics;
using Commission.Core.Readings;
using Commission.Workshop.Ports;

namespace Commission.Workshop.Requests;

/// <summary>A finding from a file of readings.</summary>
/// <param name="files">Where the file is read.</param>
/// <param name="judge">Evaluates with what is known besides.</param>
public sealed class FitFile(ITextFiles files, JudgeReadings judge)
{
    /// <summary>Reads the file and evaluates it.</summary>
    /// <param name="kind">The kind of characteristic.</param>
    /// <param name="path">The file, as the user named it.</param>
    /// <param name="options">What the fit knows besides.</param>
    public Outcome<FitAnswer> Run(CharacteristicKind kind, string path, FitOptions options) =>
        files.Read(path)
            .Then(text => CsvReadings.Read(path, text, kind.Columns, anyNumeric: kind.Columns.IsEmpty))
            .Then(table => judge.Run(kind, table, options).Then<FitAnswer>(judged => new FitAnswer(
                judged.Finding with { Remarks = [.. table.Remarks, .. judged.Finding.Remarks] }, table, judged.Options)));
}

/// <summary>What a fit of a file gave.</summary>
/// <param name="Finding">The finding.</param>
/// <param name="Readings">The readings it rests on.</param>
/// <param name="Options">What the fit was told.</param>
public sealed record FitAnswer(Finding Finding, ReadingTable Readings, FitOptions Options);
