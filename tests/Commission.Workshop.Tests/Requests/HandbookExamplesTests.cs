using System.Text.RegularExpressions;
using Commission.Core.Characteristics;
using Commission.Core.Instruments;
using Commission.Core.Readings;
using Commission.Core.Reports;
using Commission.Workshop.Requests;

namespace Commission.Workshop.Tests.Requests;

/// <summary>The worked examples of the handbook run through the kinds as the command line does, and print what the page says.</summary>
public sealed partial class HandbookExamplesTests
{
    public static TheoryData<string> Pages { get; } = [.. HandbookPages.Names.Where(name => Example().IsMatch(HandbookPages.Text(name)))];

    [Fact]
    public void Every_kind_has_a_worked_example() =>
        Assert.All(CharacteristicKinds.All, kind => Assert.Contains(Runs(kind.HandbookPage), run => run.Kind == kind.Id));

    [Theory]
    [MemberData(nameof(Pages))]
    public void A_worked_example_prints_the_lines_of_its_page(string page)
    {
        foreach (var (id, typed, csv, expected) in Runs(page))
        {
            var kind = CharacteristicKinds.Find(id)!;
            var options = new FitOptionsText(kind, typed).Read(null, InstrumentCatalogue.Find).Require();
            var table = CsvReadings.Read(page, csv, kind.Columns, anyNumeric: kind.Columns.IsEmpty).Require();
            var printed = FindingText.Lines(kind.Evaluate(table, options).Require(), options.Coverage);

            Assert.NotEmpty(expected);
            Assert.Equal(expected, expected.Where(line => printed.Contains(line)));
            Assert.Equal(expected.OrderBy(line => printed.IndexOf(line)), expected);
        }
    }

    [Theory]
    [MemberData(nameof(Pages))]
    public void The_picture_of_a_worked_example_can_be_drawn(string page)
    {
        foreach (var (id, typed, csv, _) in Runs(page))
        {
            var kind = CharacteristicKinds.Find(id)!;
            var table = CsvReadings.Read(page, csv, kind.Columns, anyNumeric: kind.Columns.IsEmpty).Require();
            var figure = kind.Picture(kind.Evaluate(table, new FitOptionsText(kind, typed).Read(null, InstrumentCatalogue.Find).Require()).Require(), table);

            Assert.Equal(kind.WhyNoPicture is null, figure is not null);
            if (figure is null)
                continue;
            Assert.NotEmpty(figure.Layers);
            Assert.NotEmpty(figure.Summary);
            // A value that is not finite is refused there.
            Assert.Contains("</svg>", SvgFigure.Write(figure), StringComparison.Ordinal);
        }
    }

    internal static IEnumerable<(string Kind, Dictionary<string, string> Typed, string Csv, string[] Expected)> Runs(string page)
    {
        foreach (Match example in Example().Matches(HandbookPages.Text(page)))
        {
            var words = example.Groups[2].Value.Split(' ', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
            var typed = words.Skip(1).Chunk(2).ToDictionary(pair => pair[0][2..], pair => pair[1]);
            yield return (words[0], typed, example.Groups[1].Value, example.Groups[3].Value.Split('\n', StringSplitOptions.RemoveEmptyEntries));
        }
    }

    [GeneratedRegex(@"```readings\n(.*?)```\s+```fit\n(.*?)\n```\s+```answer\n(.*?)```", RegexOptions.Singleline)]
    private static partial Regex Example();
}
