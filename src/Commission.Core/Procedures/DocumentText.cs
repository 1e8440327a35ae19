using System.Collections.Immutable;

namespace Commission.Core.Procedures;

/// <summary>A procedure as a document to read.</summary>
public static class DocumentText
{
    /// <summary>Conditions in words.</summary>
    public static string Conditions(ImmutableArray<Condition> conditions) => conditions.IsEmpty
        ? "every machine"
        : string.Join(" and ", conditions.Select(condition => $"{condition.Fact}: {string.Join(" or ", condition.Words)}"));
}
