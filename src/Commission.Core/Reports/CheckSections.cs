using System.Collections.Immutable;
using Commission.Core.History;
using static System.FormattableString;

namespace Commission.Core.Reports;

/// <summary>What a report says about checks: what was asked, what was found and against which limit; what was only typed as a fact stands by itself.</summary>
internal static class CheckSections
{
    private const string NoText = "no text at hand";

    // What is told without a source and may be anything within reason is a fact, no check: its range only catches slips of the hand.
    private static readonly ImmutableArray<string> FactLimits = ["from ", "any answer", "four numbers"];

    /// <summary>The section of the latest checks.</summary>
    public static ReportSection Of(Ledger ledger, ReportScope scope, IEnumerable<Entered<EntryBody.Checked>> checks) => new("Checks", 1, [.. Blocks(ledger, scope, checks)]);

    /// <summary>Checks in a table, then facts in one, then why some have no text.</summary>
    public static IEnumerable<ReportBlock> Blocks(Ledger ledger, ReportScope scope, IEnumerable<Entered<EntryBody.Checked>> checks)
    {
        var runs = new Dictionary<long, RunTexts>();
        var all = checks.Select(check => (Made: check, Texts: Texts(check.Body.Run ?? 0))).ToList();
        var facts = all.ToLookup(one => IsFact(one.Made.Body));
        return
        [
            Checks(ledger, scope, facts[false]),
            .. facts.Contains(true) ? (ReadOnlySpan<ReportBlock>)[new ReportBlock.Paragraph("Facts that were typed; they were not judged."), Facts(ledger, scope, facts[true])] : [],
            new ReportBlock.Items(
            [
                .. all.Where(one => one.Texts.WhyNone is not null).GroupBy(one => one.Texts.WhyNone!)
                    .Select(same => $"No text for {string.Join(", ", same.Select(one => one.Made.Body.Check).Distinct())}: {same.Key}."),
            ]),
        ];

        RunTexts Texts(long run) => runs.TryGetValue(run, out var known) ? known : runs[run] = new RunTexts(scope, ledger.Runs.GetValueOrDefault(run));
    }

    private static bool IsFact(EntryBody.Checked check) => check is { Passed: true, Source: null } && FactLimits.Any(begin => check.Limit.StartsWith(begin, StringComparison.Ordinal));

    private static ReportBlock.Table Checks(Ledger ledger, ReportScope scope, IEnumerable<(Entered<EntryBody.Checked> Made, RunTexts Texts)> checks) => new(
        "check",
        ["check", "question", "found", "limit", "source of the limit", "passed", "by", "at"],
        [.. checks.Select(one => (ImmutableArray<ReportCell>)
            [
                Key(ledger, one.Made.Body), one.Texts.Of(one.Made.Body.Step) ?? NoText, CheckText.Found(one.Made.Body, scope.Units), CheckText.Limit(one.Made.Body, scope.Units),
                one.Made.Body.Source ?? "none named", one.Made.Body.Passed ? "yes" : "no", By(scope, one.Made.Body), At(one.Made.At),
            ])])
    { Long = true };

    private static ReportBlock.Table Facts(Ledger ledger, ReportScope scope, IEnumerable<(Entered<EntryBody.Checked> Made, RunTexts Texts)> facts) => new(
        "fact",
        ["fact", "question", "answer", "by", "at"],
        [.. facts.Select(one => (ImmutableArray<ReportCell>)
            [Key(ledger, one.Made.Body), one.Texts.Of(one.Made.Body.Step) ?? NoText, CheckText.Found(one.Made.Body, scope.Units), By(scope, one.Made.Body), At(one.Made.At)])])
    { Long = true };

    private static string Key(Ledger ledger, EntryBody.Checked check) => ledger.KeyOf(check).Words;

    private static string By(ReportScope scope, EntryBody.Checked check) => check.Operator is { } person ? scope.Person(person) : "";

    private static string At(DateTimeOffset at) => Invariant($"{at:yyyy-MM-dd HH:mm zzz}");
}
