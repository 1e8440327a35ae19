using System.Collections.Immutable;
using System.Globalization;
using System.Text.RegularExpressions;
using Commission.Core.Characteristics;
using Commission.Core.Instruments;
using Commission.Core.Readings;
using Commission.Core.Reports;
using Commission.Workshop.Requests;
using Commission.Workshop.Screens;
using Commission.Workshop.Tests.Requests;

namespace Commission.Workshop.Tests.Screens;

/// <summary>Every kind of figure at every size of window, in ASCII and in Braille: what is written in it can be read.</summary>
public sealed partial class FigureLabelsTests
{
    // What pictures have in windows of 80x24, 120x40 and 200x60, beside a sheet of 80 in one of 120 and of 200, and the least room of all.
    private static readonly (int Width, int Height)[] Rooms = [(78, 14), (118, 30), (198, 50), (36, 30), (116, 30), (FigureCells.LeastWidth, FigureCells.LeastHeight + 4)];

    private static readonly Dictionary<string, Figure> Figures = Made().ToDictionary(made => made.Name, made => made.Figure);

    public static TheoryData<string> Names { get; } = [.. Figures.Keys];

    [Theory]
    [MemberData(nameof(Names))]
    public void No_label_of_a_figure_runs_into_another_one_or_into_what_is_drawn(string name)
    {
        var figure = Figures[name];
        foreach (var ((width, height), fine) in from room in Rooms from fine in new[] { false, true } select (room, fine))
        {
            var rows = FigureCells.Draw(figure, width, height, fine);
            var plane = rows.Skip(1).Take(rows.Length - 1).TakeWhile(row => !IsLegend(figure, row)).ToList();
            foreach (var row in plane)
            {
                // A number that touches something else is read wrongly: signs, digits and points that are no label are refused with what they touch.
                foreach (Match token in Token().Matches(Words(figure, row)))
                    Assert.True(IsLabel(figure, token.Value), $"{token.Value} in {name} at {width}x{height}{(fine ? " fine" : "")}:\n{string.Join('\n', rows)}");
            }
        }
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Axes_tell_quantity_and_unit_whole_and_each_series_has_a_sign_of_its_own(string name)
    {
        var figure = Figures[name];
        foreach (var ((width, height), fine) in from room in Rooms from fine in new[] { false, true } select (room, fine))
        {
            if (FigureCells.Draw(figure, width, height, fine) is not { Length: > 0 } rows)
                continue;
            var all = Blanks().Replace(string.Join(' ', rows), " ");
            Assert.Contains(figure.Vertical, all, StringComparison.Ordinal);
            Assert.Contains(figure.Horizontal, all, StringComparison.Ordinal);
            Assert.All(rows, row => Assert.True(row.Length <= width));
            var signs = figure.Layers.OfType<FigureLayer.Points>().Where(points => points.Values.Any(FigureReach.HasPlace))
                .Select(points => FigureCells.Sign(points.Mark, (char)('0' + FigureReach.DotsBefore(figure, points)))).ToList();
            Assert.Equal(signs.Count, signs.Distinct().Count());
        }
    }

    [Fact]
    public void The_words_of_a_change_stand_whole_or_not_at_all_and_touch_nothing_but_its_line()
    {
        var trend = Figures["trend"];
        foreach (var ((width, height), fine) in from room in Rooms from fine in new[] { false, true } select (room, fine))
        {
            var rows = FigureCells.Draw(trend, width, height, fine);
            var told = 0;
            foreach (var words in trend.Layers.OfType<FigureLayer.Event>().Select(happened => happened.Name))
            {
                foreach (var row in rows.Where(row => row.Contains(words.Split(' ')[0], StringComparison.Ordinal)))
                {
                    var at = row.IndexOf(words, StringComparison.Ordinal);
                    Assert.True(at > 0, row);
                    Assert.Contains(row[at - 1], " :\u2506|\u2502");
                    Assert.True(at + words.Length == row.Length || " :\u2506".Contains(row[at + words.Length], StringComparison.Ordinal), row);
                    told++;
                }
            }

            Assert.True(told >= 1 || rows.IsEmpty, string.Join('\n', rows));
        }
    }

    [Fact]
    public void Where_numbers_of_a_map_have_no_room_a_sign_stands_for_them_and_is_explained()
    {
        Assert.Contains(FigureCells.Draw(Figures["crowded map"], 118, 30), row => row.Contains("# no room for all numbers", StringComparison.Ordinal));
        Assert.DoesNotContain(FigureCells.Draw(Figures["work area"], 118, 30), row => row.Contains('#', StringComparison.Ordinal));
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void Each_ring_of_a_dial_has_its_number_once_where_there_is_room(bool fine)
    {
        var plane = FigureCells.Draw(Figures["tram 1"], 118, 30, fine);
        Assert.Equal(2, plane.Sum(row => Regex.Count(row, @"(?<= )0\.\d+(?= |$)")));
    }

    // The words of events and axes stand among the drawing; they are looked at apart.
    private static string Words(Figure figure, string row)
    {
        foreach (var words in figure.Layers.OfType<FigureLayer.Event>().Select(happened => happened.Name).Append(figure.Horizontal).Append(figure.Vertical).Append("0.001 mm"))
            row = row.Replace(words, new string(' ', words.Length), StringComparison.Ordinal);
        return row;
    }

    private static bool IsLegend(Figure figure, string row) =>
        row.StartsWith(" # several", StringComparison.Ordinal) || row.StartsWith(" and ", StringComparison.Ordinal) || figure.Layers.Select(layer => layer switch
        {
            FigureLayer.Points points => points.Name,
            FigureLayer.Line line => line.Name,
            FigureLayer.Band band => band.Name,
            _ => "",
        }).Any(entry => entry.Length > 0 && row.Contains(entry[..Math.Min(entry.Length, 12)], StringComparison.Ordinal));

    // Ticks stand at round numbers, levels are thousandths, and the four directions of a dial are named.
    private static bool IsLabel(Figure figure, string token)
    {
        if (!double.TryParse(token, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var number))
            return false;
        if (figure.Form == FigureForm.Polar && token is "0" or "90" or "180" or "270")
            return true;
        if (figure.Form == FigureForm.Map && figure.Layers.OfType<FigureLayer.Points>().SelectMany(points => points.Values).Any(point => point.Level is { } level && Math.Abs((1000 * level) - number) <= 0.5))
            return true;
        var digits = token.Trim('-', '+').Replace(".", "", StringComparison.Ordinal).Trim('0');
        return digits.Length <= 4 && (token.Contains('.', StringComparison.Ordinal) || number % 1 == 0) && Within(figure, number);
    }

    private static bool Within(Figure figure, double number)
    {
        var (left, right, low, high) = FigureReach.Rectangle(figure);
        var wide = 3 * Math.Max(right - left, high - low);
        return number >= Math.Min(left, low) - wide - 1 && number <= Math.Max(right, high) + wide + 1;
    }

    private static IEnumerable<(string Name, Figure Figure)> Made()
    {
        foreach (var kind in CharacteristicKinds.All)
        {
            foreach (var (run, i) in HandbookExamplesTests.Runs(kind.HandbookPage).Where(run => run.Kind == kind.Id).Select((run, i) => (run, i)))
            {
                var table = CsvReadings.Read(kind.Id, run.Csv, kind.Columns, anyNumeric: kind.Columns.IsEmpty).Require();
                var finding = kind.Evaluate(table, new FitOptionsText(kind, run.Typed).Read(null, InstrumentCatalogue.Find).Require()).Require();
                if (kind.Picture(finding, table) is { } figure)
                    yield return ($"{kind.Id} {i + 1}", figure);
            }
        }

        yield return ("work area", WorkArea());
        yield return ("crowded map", Crowded());
        yield return ("trend", Trend());
        yield return ("dial", Dial());
    }

    // Invented: the error over the work area on a grid of five by five.
    private static Figure WorkArea()
    {
        var grid = from j in Enumerable.Range(0, 5) from i in Enumerable.Range(0, 5) select new FigurePoint(105 * i, 145 * j, Level: 0.001 * ((17 * i) + (23 * j) + 28));
        var places = grid.ToImmutableArray();
        return new()
        {
            Title = "Position error over the work area", Horizontal = "X, mm", Vertical = "Y, mm", Summary = "s", Form = FigureForm.Map,
            Layers =
            [
                .. places.Select(at => new FigureLayer.Line("", [at, new(at.X + (0.1 * at.X), at.Y + (0.08 * at.Y))])),
                new FigureLayer.Points("sent to; the number is the position error there", FigureMark.Dot, places),
                new FigureLayer.Points("goes to", FigureMark.Fitted, [.. places.Select(at => new FigurePoint(at.X + (0.1 * at.X), at.Y + (0.08 * at.Y)))]),
            ],
        };
    }

    // Invented: heights closer together than their numbers are wide.
    private static Figure Crowded() => new()
    {
        Title = "Bed map", Horizontal = "X, mm", Vertical = "Y, mm", Summary = "s", Form = FigureForm.Map,
        Layers = [new FigureLayer.Points("height about the plane", FigureMark.Dot, [.. from j in Enumerable.Range(0, 9) from i in Enumerable.Range(0, 15) select new FigurePoint(30 * i, 70 * j, Level: 0.013 * ((i * j % 17) - 8))])],
    };

    // Invented: results a month apart, with changes on one day and on days close together.
    private static Figure Trend() => new()
    {
        Title = "Trend: scale Y", Horizontal = "days since 12 Jan 2026", Vertical = "scale Y, ppm", Summary = "s",
        Layers =
        [
            new FigureLayer.Band("limit 1250 ppm", -1250, 1250),
            new FigureLayer.Event("steps per mm of Y set", 60), new FigureLayer.Event("lower bolts shimmed", 60), new FigureLayer.Event("belt changed", 66), new FigureLayer.Event("look again", 400),
            new FigureLayer.Points("results, bar = U", FigureMark.Dot, [.. Enumerable.Range(0, 12).Select(i => new FigurePoint(30 * i, 1230 - (90 * i), 290))]),
            new FigureLayer.Points("results that set off an alarm, bar = U", FigureMark.LeftOut, [new(200, -700, 290)]),
            new FigureLayer.Line("filtered level", [.. Enumerable.Range(0, 12).Select(i => new FigurePoint(30 * i, 1200 - (85 * i)))]),
        ],
    };

    // Invented: as many heights as a runout has at most, some of them alike.
    private static Figure Dial() => new()
    {
        Title = "Runout", Horizontal = "angle, degrees from +X", Vertical = "reading about its mean, lifted, mm", Summary = "s", Form = FigureForm.Polar,
        Layers =
        [
            .. Enumerable.Range(0, 4).SelectMany(i => (FigureLayer[])
            [
                new FigureLayer.Points($"height {20 * (i + 1)} mm", FigureMark.Dot, [.. Enumerable.Range(0, 8).Select(n => new FigurePoint(45 * n, 0.1 + (0.01 * (i + 1) * Math.Cos(n * Math.PI / 4))))]),
                new FigureLayer.Line($"height {20 * (i + 1)} mm, first harmonic", [.. Enumerable.Range(0, 73).Select(n => new FigurePoint(5 * n, 0.1 + (0.01 * (i + 1) * Math.Cos(n * Math.PI / 36))))], Dashed: i % 2 == 1),
            ]),
        ],
    };

    [GeneratedRegex(@"\S*\d\S*")]
    private static partial Regex Token();

    [GeneratedRegex(@"\s+")]
    private static partial Regex Blanks();
}
