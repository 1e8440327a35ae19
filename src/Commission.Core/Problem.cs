using System.Globalization;

namespace Commission.Core;

/// <summary>Something a person can put right: what happened, where, and what to do about it.</summary>
/// <param name="What">What is wrong, one clause, without a full stop.</param>
/// <param name="Remedy">What to do, one sentence, without a full stop.</param>
public sealed record Problem(string What, string Remedy)
{
    /// <summary>The file the problem stands in, as the user named it; null where there is no file.</summary>
    public string? File { get; init; }

    /// <summary>Line in the file, counted from 1.</summary>
    public long? Line { get; init; }

    /// <summary>Column in the line, in characters, counted from 1.</summary>
    public long? Column { get; init; }

    /// <summary>Header of the table column, where the file is a table.</summary>
    public string? Field { get; init; }

    /// <summary>Whether a store or a controller failed, rather than the request: the program ends with another code then.</summary>
    public bool IsFailure { get; init; }

    /// <summary>The one-line form: <c>FILE:LINE:COLUMN: [field] what. Remedy.</c> with the parts that are known.</summary>
    public override string ToString()
    {
        var place = File is null ? "" : string.Create(CultureInfo.InvariantCulture, $"{File}:{Line ?? 1}:{Column ?? 1}: ");
        var field = Field is null ? "" : $"[{Field}] ";
        return $"{place}{field}{What}. {Remedy}.";
    }
}
