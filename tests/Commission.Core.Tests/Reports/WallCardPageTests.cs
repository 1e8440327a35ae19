using System.Globalization;
using System.Text.RegularExpressions;
using Commission.Core.History;
using Commission.Core.Reports;
using Commission.Core.Tests.History;
using Commission.Core.Upkeep;

namespace Commission.Core.Tests.Reports;

/// <summary>The card for the wall is one page of A4 and of Letter: its height is reckoned here from the sizes in its own style sheet, line by line.</summary>
public sealed partial class WallCardPageTests
{
    private const double PointMm = 25.4 / 72;

    private static readonly Machine Heron = new()
    {
        Name = "Heron with a long name that somebody chose for it, and then some", TravelMm = [420, 580, 90],
        X = Axis(), Y = Axis() with { Motors = 2 }, Z = Axis(),
    };

    public static TheoryData<int, bool> Cards => new([.. from places in (int[])[0, 1, 3, 12] from tight in (bool[])[false, true] select (places, tight)]);

    [Theory]
    [MemberData(nameof(Cards))]
    public void Whatever_was_measured_the_card_is_one_page_of_A4_and_of_Letter(int places, bool tight)
    {
        var html = HtmlReport.Write(Card([.. Bodies(places, tight)]));
        foreach (var (width, height) in ((double, double)[])[(210, 297), (215.9, 279.4)])
        {
            var page = new Page(html, width);
            var columns = 2 * (height - (2 * page.MarginMm) - page.HeadMm);
            // Columns are made equally long; where they part, a row or a heading with its first row may move on as a whole.
            Assert.True(page.BodyMm + page.LargestWholeMm <= columns, FormattableString.Invariant($"{page.BodyMm:F0} mm and {page.LargestWholeMm:F0} mm that stay together, where {columns:F0} mm are on {width} x {height}"));
        }
    }

    [Fact]
    public void What_has_no_room_is_told_in_a_sentence_and_what_is_not_within_stays()
    {
        var card = MarkdownReport.Write(Card([.. Bodies(12, tight: true)]));
        Assert.Matches(@"- \d+ more results have no room here; see the report", card);
        Assert.Contains("more skips, see history next", card, StringComparison.Ordinal);
        var loose = MarkdownReport.Write(Card([.. Bodies(3, tight: false)]));
        Assert.Matches(@"- \d+ more results have no room here, within the limit each; see the report", loose);
        Assert.Equal(CharacteristicKinds.All.Length, loose.Split("| outside |").Length - 1);
    }

    private static AxisDescription Axis() => new() { Compensation = Compensation.Millimetres, StepsPerMm = 320, Drive = DriveKind.Screw, TravelPerTurnMm = 5, Setting = RatioSetting.StepsPerTurnAndLead };

    // Every kind on every axis, at as many places; with all that may stand on the card besides: skips, checks with numbers, offsets, speeds, a change.
    private static IEnumerable<EntryBody> Bodies(int places, bool tight)
    {
        yield return new EntryBody.MachineDescribed(Heron, Retired: false);
        foreach (var kind in CharacteristicKinds.All)
        {
            foreach (var axis in (string?[])["X", "Y", "Z", null])
            {
                for (var place = 0; place <= places; place++)
                    yield return Found(kind, axis, place == 0 ? null : FormattableString.Invariant($"at the far end of the long table, {place}"), place == 0 && axis is null);
            }
        }

        foreach (var check in (string[])["P05", "P05a", "P06", "P07", "P08", "P29"])
            yield return new EntryBody.Checked { Step = "list", Check = check, Typed = "4.5", Value = 114.3, Unit = "mm", Limit = "from 100.25 mm to 127.375 mm", Passed = false };
        if (!tight)
            yield break;
        for (var skip = 0; skip < 40; skip++)
            yield return new EntryBody.Skipped($"step-{skip}", "P31", "there was no meter in the house that day, and the one who has one was away until the week after the next");
        foreach (var axis in (string[])["X", "Y", "Z", "A", "B"])
        {
            yield return new EntryBody.SettingWritten { Name = "homeOffset", Axis = axis, After = 0.35, Stage = "told" };
            yield return new EntryBody.SettingWritten { Name = "pullOff", Axis = axis, After = 1.25, Stage = "told" };
        }
    }

    private static EntryBody.FindingMade Found(CharacteristicKind kind, string? axis, string? place, bool outside)
    {
        var made = LedgerTests.Found(kind.Id, axis);
        var u = kind.Id == "event-rate" ? (double?)null : 0.00123;
        FittedParameter Of(string name) => new() { Name = name, Unit = "mm", Value = -0.01234, StandardUncertainty = u, ExpandedUncertainty = u, CoverageFactor = 12.61, WhyNoUncertainty = u is null ? "it is a bound itself, and no value that scatters" : null };
        return made with
        {
            Place = place,
            Finding = made.Finding with { Kind = kind.Id, Verdict = outside ? Verdict.Outside : Verdict.Within, Parameters = kind.Id == "speed-ladder" ? [Of("limit")] : [Of(kind.Parameters.IsEmpty ? "constant" : kind.Parameters[0].Name)] },
        };
    }

    private static Report Card(params EntryBody[] bodies)
    {
        // Each a day later than the one before: as many dates as results.
        var chain = LedgerTests.Chain([.. bodies.Select(body => body with { Machine = Heron.Name })]).Select((entry, at) => entry with { At = entry.At.AddDays(at) }).ToList();
        return WallCard.Build(Ledger.From(chain), new() { Machine = Heron, AsOf = chain[^1].At, Entries = chain.Count, Tip = new string('0', 64), Program = "1", Upkeep = UpkeepFold.From(chain) });
    }

    /// <summary>The page as its style sheet sets it on paper of a width.</summary>
    private sealed class Page
    {
        private readonly double columnMm;
        private readonly string style;

        public Page(string html, double paperMm)
        {
            style = Style().Match(html).Groups[1].Value;
            MarginMm = Size(@"@page card\{margin:([\d.]+)mm\}");
            columnMm = (Math.Min(Size(@"\.card\{page:card;max-width:([\d.]+)mm"), paperMm - (2 * MarginMm)) - .6 - Size(@"column-gap:([\d.]+)mm")) / 2;
            var (text, table) = (Size(@"\.card\{[^}]*font-size:([\d.]+)pt") * PointMm, Size(@"\.card table\{font-size:([\d.]+)pt") * PointMm);
            var (line, heading) = (Size(@"\.card\{[^}]*line-height:([\d.]+)"), Size(@"\.card h2\{font-size:([\d.]+)pt") * PointMm);
            Assert.Contains("columns:2", style, StringComparison.Ordinal);
            Assert.Contains("table-layout:fixed", style, StringComparison.Ordinal);
            HeadMm = (Size(@"\.card h1\{[^}]*font-size:([\d.]+)pt") * PointMm * line) + 1 + (text * line) + 3;
            BodyMm = 0;
            foreach (Match section in Section().Matches(html))
            {
                var headingMm = (heading * line) + 2.6;
                BodyMm += headingMm + Blocks(section.Groups[1].Value, text, table, line, headingMm);
            }
        }

        public double MarginMm { get; }

        public double HeadMm { get; }

        public double BodyMm { get; }

        public double LargestWholeMm { get; private set; }

        private double Blocks(string html, double text, double table, double line, double headingMm)
        {
            var sum = 0.0;
            foreach (Match item in Item().Matches(html))
                sum += Lines(item.Groups[1].Value, columnMm - (1.2 * text), text) * text * line;
            foreach (Match paragraph in Paragraph().Matches(html))
                sum += Lines(paragraph.Groups[1].Value, columnMm, text) * text * line;
            sum += (List().Count(html) + Paragraph().Count(html)) * .4 * text;
            foreach (Match one in Table().Matches(html))
            {
                var widths = Column().Matches(one.Value).Select(col => columnMm * double.Parse(col.Groups[1].Value, CultureInfo.InvariantCulture) / 100).ToArray();
                var rows = Row().Matches(one.Value).Select(row => .27 + (widths.Zip(Cell().Matches(row.Value), (width, cell) => Lines(cell.Groups[1].Value, width - .79, table)).Max() * table * line)).ToArray();
                LargestWholeMm = Math.Max(LargestWholeMm, Math.Max(rows.Max(), headingMm + rows[0] + rows[1]));
                sum += (.4 * table) + rows.Sum();
            }

            return sum;
        }

        private static int Lines(string text, double widthMm, double sizeMm)
        {
            var (lines, left) = (1, widthMm);
            foreach (var word in text.Replace("&quot;", "'", StringComparison.Ordinal).Split(' '))
            {
                var needed = word.Sum(Em) * sizeMm;
                if (needed > left && left < widthMm)
                    (lines, left) = (lines + 1, widthMm);
                for (; needed > widthMm + .05; needed -= widthMm)
                    lines++;
                left -= needed + (Em(' ') * sizeMm);
            }

            return lines;
        }

        // A wide sans-serif type, from memory: figures .636, m .974, w .818, a .613, t .392, r .411, space .318 of its size.
        private static double Em(char letter) => "mM%w".Contains(letter, StringComparison.Ordinal) ? .96 : " .,;:'-/()ijlIftr".Contains(letter, StringComparison.Ordinal) ? .41 : char.IsAsciiLetterUpper(letter) ? .75 : .637;

        private double Size(string pattern) => double.Parse(Regex.Match(style, pattern).Groups[1].Value, CultureInfo.InvariantCulture);
    }

    [GeneratedRegex("<style>(.*?)</style>", RegexOptions.Singleline)]
    private static partial Regex Style();

    [GeneratedRegex("<section>(.*?)</section>", RegexOptions.Singleline)]
    private static partial Regex Section();

    [GeneratedRegex("<li>(.*?)</li>")]
    private static partial Regex Item();

    [GeneratedRegex("<ul>")]
    private static partial Regex List();

    [GeneratedRegex("<p>(.*?)</p>")]
    private static partial Regex Paragraph();

    [GeneratedRegex("<table.*?</table>", RegexOptions.Singleline)]
    private static partial Regex Table();

    [GeneratedRegex("<col style=\"width:([\\d.]+)%\">")]
    private static partial Regex Column();

    [GeneratedRegex("<tr>(.*?)</tr>")]
    private static partial Regex Row();

    [GeneratedRegex("<t[hd][^>]*>(.*?)</t[hd]>")]
    private static partial Regex Cell();
}
