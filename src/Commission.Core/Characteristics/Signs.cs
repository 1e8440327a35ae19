using System.Collections.Frozen;

namespace Commission.Core.Characteristics;

/// <summary>How results are told to people, wherever they stand: which have a sign worth a plus, and which way round lost motion is told.</summary>
public static class Signs
{
    /// <summary>What people call lost motion: the opposite of the reversal value, positive where there is play.</summary>
    public const string LostMotion = "lostMotion";

    /// <summary>How far commanded and real position lie apart: a distance.</summary>
    public const string PositionError = "positionError";

    // A name that several kinds have is a size where it is one in all of them.
    private static readonly FrozenSet<string> Sizes = CharacteristicKinds.All.SelectMany(kind => kind.Parameters).GroupBy(spec => Family(spec.Name))
        .Where(group => group.All(spec => spec.IsSize)).Select(group => group.Key).Append(LostMotion).Append(PositionError).ToFrozenSet(StringComparer.Ordinal);

    /// <summary>Whether a parameter has a sign that says something, so that a plus is written; a size has none.</summary>
    /// <param name="parameter">Its name.</param>
    /// <param name="kind">Id of its kind; null where it is not known.</param>
    public static bool IsSigned(string parameter, string? kind = null) =>
        kind is not null && CharacteristicKinds.Find(kind)?.Parameters.FirstOrDefault(spec => Family(spec.Name) == Family(parameter)) is { } found ? !found.IsSize : !Sizes.Contains(Family(parameter));

    /// <summary>A headline under the title of its kind: under "lost motion" stands the reversal value with its sign turned.</summary>
    public static FittedParameter Told(FittedParameter headline) => headline.Name == "reversal" ? headline with { Name = LostMotion, Value = -headline.Value } : headline;

    /// <summary>The headline of a kind by name, as it is told.</summary>
    public static string Told(CharacteristicKind kind) => kind.Parameters is [var first, ..] ? first.Name == "reversal" ? LostMotion : first.Name : "";

    /// <summary>The factor with which a parameter is told under the title of its quantity: -1 for a reversal value.</summary>
    public static double Of(string parameter) => parameter.StartsWith("reversal", StringComparison.Ordinal) ? -1 : 1;

    // tir[45] is one of the family tir[HEIGHT].
    private static string Family(string name) => name.IndexOf('[', StringComparison.Ordinal) is var at and > 0 ? name[..at] : name;
}
