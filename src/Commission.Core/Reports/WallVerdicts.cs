using System.Collections.Immutable;
using Commission.Core.Characteristics;
using Commission.Core.History;
using Commission.Core.Upkeep;
using static System.FormattableString;

namespace Commission.Core.Reports;

/// <summary>The last verdicts on the card for the wall: all where there is room, else those first that are not within.</summary>
internal static class WallVerdicts
{
    private const string Title = "Last verdicts";
    private const int LongestPlace = 24;

    /// <summary>The section.</summary>
    /// <param name="scope">What the card tells of.</param>
    /// <param name="latest">The findings that count.</param>
    /// <param name="roomMm">Height that is left for it, mm.</param>
    public static ReportSection Of(ReportScope scope, IEnumerable<FindingRecord> latest, double roomMm)
    {
        var upkeep = StandingSections.Upkeep(scope);
        var judged = latest.Where(finding => finding.Made.Body.Finding.Verdict != Verdict.None).Select((finding, at) =>
        {
            var made = finding.Made.Body;
            var noLonger = upkeep.Of(finding.Sequence) is { Standing: Standing.Stale or Standing.Suspect } state ? state : null;
            return (Made: made, At: at, Within: noLonger is null && made.Finding.Verdict == Verdict.Within, Row: Row(scope, finding, noLonger is null ? FindingWords.Of(made.Finding.Verdict) : "withheld: " + StandingWords.Of(noLonger.Standing)));
        }).ToList();
        if (judged.Count == 0)
            return new ReportSection(Title, 1, [new ReportBlock.Paragraph("None yet.")]);
        ReportSection Section(int count)
        {
            var shown = judged.OrderBy(one => one.Within).Take(count).ToList();
            return Told(shown.OrderBy(one => one.At).Select(one => (one.Made, one.Row)), Left([.. judged.Except(shown).Select(one => one.Within)]));
        }

        if (CardRoom.Of(Section(judged.Count)) <= roomMm)
            return Section(judged.Count);
        var (fits, doesNot) = (0, judged.Count);
        while (doesNot - fits > 1)
        {
            var middle = (fits + doesNot) / 2;
            (fits, doesNot) = CardRoom.Of(Section(middle)) <= roomMm ? (middle, doesNot) : (fits, middle);
        }

        return Section(fits);
    }

    private static ImmutableArray<string> Left(List<bool> within) => within.Count == 0 ? []
        : [Invariant($"{within.Count} more {(within.Count == 1 ? "result has" : "results have")} no room here{(within.TrueForAll(one => one) ? ", within the limit each" : "")}; see the report")];

    private static ReportSection Told(IEnumerable<(EntryBody.FindingMade Made, ImmutableArray<ReportCell> Row)> shown, ImmutableArray<string> left)
    {
        var all = shown.ToList();
        return new ReportSection(Title, 1,
        [
            new ReportBlock.Table("verdict", ["result", "axis", "value", "U", "unit", "k", "verdict", "of"], [.. all.Select(one => one.Row)]),
            FindingSections.Reasons(all.Select(one => (one.Made, one.Made.Finding.Headline))),
            new ReportBlock.Items(left),
        ]);
    }

    private static ImmutableArray<ReportCell> Row(ReportScope scope, FindingRecord finding, string verdict)
    {
        var made = finding.Made.Body;
        var cells = FindingSections.Headline(made.Finding, scope.Units);
        return
        [
            WallCard.Title(made) + (made.Place is null ? "" : ", " + WallCard.Clipped(made.Place, LongestPlace)), made.Axis ?? "", cells.Value, FindingSections.Short(cells), cells.Unit, cells.Factor,
            verdict, WallCard.Day(finding.Made.At),
        ];
    }
}
