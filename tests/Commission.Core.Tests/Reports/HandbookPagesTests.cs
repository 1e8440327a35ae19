using System.Globalization;
using System.Text.RegularExpressions;
using Commission.Core.Reports;
using Commission.Core.Tests.Procedures;
using Commission.Tests;

namespace Commission.Core.Tests.Reports;

/// <summary>The handbook is whole: a page for everything, every link leads somewhere, every sum comes out.</summary>
public sealed partial class HandbookPagesTests
{
    private static readonly string[] Parts =
        ["## What it is", "## How it is measured", "## The formula", "## Worked example", "## What can go wrong", "## When to leave it alone"];

    // Pages that explain the handbook or the program itself.
    private static readonly string[] Apart = ["README.md", "authoring-procedures.md", "glossary.md", "originality.md", "silent-board.md"];

    // How a page says where a formula comes from; a link leads to the page that says it.
    private static readonly string[] Sources =
        ["ISO ", "JCGM ", "NIST", "EA-4/02", "AIAG", "JAMA", "geometry", "elementary", "own derivation", "our choice", "common practice", "rule of three", "axis-scale.md", "square-reversal.md"];

    public static TheoryData<string> Pages { get; } = [.. HandbookPages.Names];

    [Fact]
    public void Every_file_of_the_folder_is_carried_in_the_program() =>
        Assert.Equal(Directory.GetFiles(Repository.At("shared", "handbook"), "*.md").Select(Path.GetFileName).Order(StringComparer.Ordinal), HandbookPages.Names);

    [Fact]
    public void Every_kind_and_every_procedure_has_a_page()
    {
        Assert.All(CharacteristicKinds.All, kind => Assert.True(HandbookPages.NameOf(kind.Id) is not null, $"{kind.Id} has no page {kind.HandbookPage}"));
        Assert.All(Shipped.Procedures, procedure => Assert.True(HandbookPages.NameOf(procedure.Id) is not null, $"{procedure.Id} has no page"));
        Assert.Null(HandbookPages.NameOf("no-such-thing"));
    }

    [Theory]
    [MemberData(nameof(Pages))]
    public void A_page_has_a_title_and_all_its_parts_in_order(string page)
    {
        var lines = HandbookPages.Text(page).Split('\n');

        Assert.StartsWith("# ", lines[0], StringComparison.Ordinal);
        if (!Apart.Contains(page))
            Assert.Equal(Parts, lines.Where(line => Parts.Contains(line)));
    }

    [Theory]
    [MemberData(nameof(Pages))]
    public void The_formulas_of_a_page_name_a_source_and_its_example_has_numbers_that_are_computed_again(string page)
    {
        if (Apart.Contains(page))
            return;
        var parts = HandbookPages.Text(page).Split("\n## ");
        var formula = parts.Single(part => part.StartsWith("The formula", StringComparison.Ordinal));
        Assert.True(Sources.Any(source => formula.Contains(source, StringComparison.Ordinal)), $"{page} names no source of its formula");
        // The blocks of readings are run beside the request that fits a file, the sums here.
        var example = parts.Single(part => part.StartsWith("Worked example", StringComparison.Ordinal));
        Assert.True(Sums().IsMatch(example) || example.Contains("```readings\n", StringComparison.Ordinal), $"{page} has no example that is computed again");
    }

    [Fact]
    public void The_page_on_a_silent_board_has_ten_lines_to_go_down_from_cable_and_speed_to_another_program()
    {
        var steps = HandbookPages.Text("silent-board.md").Split('\n').Where(line => line.Length > 2 && char.IsAsciiDigit(line[0])).ToList();
        Assert.Equal(Enumerable.Range(1, 10).Select(step => FormattableString.Invariant($"{step}.")), steps.Select(step => step.Split(' ')[0]));
        Assert.All((string[])["powered", "cable", "port", "another program hold", "speed", "dialect"], word => Assert.Contains(steps, step => step.Contains(word, StringComparison.Ordinal)));
    }

    [Theory]
    [MemberData(nameof(Pages))]
    public void Every_link_leads_to_a_page_and_a_heading(string page)
    {
        foreach (Match link in Link().Matches(HandbookPages.Text(page)))
        {
            var (file, heading) = (link.Groups[1].Value is { Length: > 0 } named ? named : page, link.Groups[2].Value);
            Assert.True(HandbookPages.Names.Contains(file), $"{page} links to {file}, which is no page");
            if (heading.Length > 0)
                Assert.True(Headings(file).Contains(heading), $"{page} links to {file}#{heading}, which is no heading");
        }
    }

    [Fact]
    public void Every_page_is_in_the_table_of_contents()
    {
        var listed = Link().Matches(HandbookPages.Text("README.md")).Select(link => link.Groups[1].Value).ToHashSet();

        Assert.All(HandbookPages.Names.Where(name => name != "README.md"), name => Assert.Contains(name, listed));
    }

    [Theory]
    // Words that a first-time builder does not know: a page that uses one leads to where it is explained.
    [InlineData("microstep")]
    [InlineData("dialect")]
    [InlineData("epoch")]
    [InlineData("coverage")]
    public void A_word_of_the_trade_is_explained_where_it_comes_up(string word)
    {
        foreach (var page in HandbookPages.Names.Where(name => name is not ("glossary.md" or "README.md")))
        {
            var text = HandbookPages.Text(page);
            if (text.Contains(word, StringComparison.OrdinalIgnoreCase))
                Assert.True(text.Contains($"](glossary.md#{word})", StringComparison.Ordinal), $"{page} uses {word} without leading to its explanation");
        }
    }

    [Theory]
    [MemberData(nameof(Pages))]
    public void Every_sum_of_a_page_comes_out_as_printed(string page)
    {
        foreach (Match block in Sums().Matches(HandbookPages.Text(page)))
        {
            foreach (var line in block.Groups[1].Value.Split('\n', StringSplitOptions.RemoveEmptyEntries))
            {
                var halves = line.Split(" = ");
                var printed = halves[1].Split(' ')[0];
                var decimals = printed.Contains('.', StringComparison.Ordinal) ? printed.Length - printed.IndexOf('.', StringComparison.Ordinal) - 1 : 0;
                Assert.Equal(printed, new Arithmetic(halves[0]).Value().ToString("F" + decimals.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture));
            }
        }
    }

    [Fact]
    public void Plain_lines_hold_the_words_of_links_and_no_marks()
    {
        var lines = HandbookPages.Lines("axis-scale.md");

        Assert.Equal("AXIS SCALE", lines[0]);
        Assert.Contains(lines, line => line.Contains("nothing to do with lost motion,", StringComparison.Ordinal));
        Assert.DoesNotContain(lines, line => line.Contains("](", StringComparison.Ordinal) || line.Contains('`', StringComparison.Ordinal));
    }

    private static IEnumerable<string> Headings(string page) => HandbookPages.Text(page).Split('\n').Where(line => line.StartsWith("## ", StringComparison.Ordinal))
        .Select(line => line[3..].Trim().ToLowerInvariant().Replace(' ', '-'));

    [GeneratedRegex(@"\]\(([a-z-]*\.md)?(?:#([a-z-]+))?\)", RegexOptions.IgnoreCase)]
    private static partial Regex Link();

    [GeneratedRegex(@"```sums\n(.*?)```", RegexOptions.Singleline)]
    private static partial Regex Sums();

    /// <summary>Sums as the pages write them: + - * / brackets, sqrt, tan, floor.</summary>
    private sealed class Arithmetic(string text)
    {
        private readonly string text = text.Replace(" ", "", StringComparison.Ordinal);
        private int at;

        public double Value()
        {
            var value = Sum();
            Assert.Equal(text.Length, at);
            return value;
        }

        private double Sum()
        {
            var value = Product();
            while (at < text.Length && text[at] is ('+' or '-'))
                value += text[at++] == '+' ? Product() : -Product();
            return value;
        }

        private double Product()
        {
            var value = Atom();
            while (at < text.Length && text[at] is ('*' or '/'))
                value = text[at++] == '*' ? value * Atom() : value / Atom();
            return value;
        }

        private double Atom()
        {
            foreach (var (name, function) in new (string, Func<double, double>)[] { ("sqrt", Math.Sqrt), ("tan", Math.Tan), ("floor", Math.Floor), ("", v => v) })
            {
                if (!text.AsSpan(at).StartsWith(name + "(", StringComparison.Ordinal))
                    continue;
                at += name.Length + 1;
                var inner = Sum();
                at++;
                return function(inner);
            }

            var start = at;
            while (at < text.Length && (char.IsAsciiDigit(text[at]) || text[at] == '.'))
                at++;
            return double.Parse(text[start..at], CultureInfo.InvariantCulture);
        }
    }
}
