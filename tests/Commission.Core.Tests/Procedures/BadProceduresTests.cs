using System.Text.RegularExpressions;
using Commission.Core.Procedures;
using Commission.Tests;
using CsCheck;

namespace Commission.Core.Tests.Procedures;

/// <summary>One file for each message in <c>tests/BadProcedures</c>; <c>expected.txt</c> there holds message, line and column, as they are shown.</summary>
public sealed partial class BadProceduresTests
{
    private static string Folder => Repository.At("tests", "BadProcedures");

    private static ILookup<string, string> Expected { get; } = File.ReadAllLines(Path.Combine(Folder, "expected.txt")).ToLookup(line => line.Split(':')[0], StringComparer.Ordinal);

    public static TheoryData<string> Names => [.. Directory.GetFiles(Folder, "*.yaml").Select(file => Path.GetFileName(file)!).Order(StringComparer.Ordinal)];

    [Theory]
    [MemberData(nameof(Names))]
    public void Each_invalid_file_is_answered_with_its_messages_at_their_places(string name)
    {
        var shown = Problems(name, File.ReadAllText(Path.Combine(Folder, name)));
        Assert.Equal(Expected[name], shown);
        Assert.Equal(name == "valid.yaml", shown.Length == 0);
    }

    // The messages are read out of the source, so that a new one without its file is seen here and not by a builder.
    [Fact]
    public void Every_message_that_the_checker_can_give_has_its_file()
    {
        var expected = File.ReadAllText(Path.Combine(Folder, "expected.txt"));
        var messages = Sources.SelectMany(name => Messages(Repository.Text("src", "Commission.Core", name))).ToArray();
        Assert.InRange(messages.Length, 50, int.MaxValue);
        var without = messages.Where(message => !Regex.IsMatch(expected, string.Join(".*", Holes().Split(message).Select(part => Regex.Escape(part.Replace("{{", "{", StringComparison.Ordinal).Replace("}}", "}", StringComparison.Ordinal)))))).Except(Elsewhere).ToArray();
        Assert.Empty(without);
        Assert.All(Elsewhere, message => Assert.Contains(Sources, name => Repository.Text("src", "Commission.Core", name).Contains(message, StringComparison.Ordinal)));
    }

    // A file of a megabyte is made here and not kept.
    [Fact]
    public void A_file_of_more_than_a_megabyte_is_refused_with_its_message_at_its_first_line() =>
        Assert.Equal("big.yaml:1:1: the file is larger than 1 MB. Split it.", Assert.Single(Problems("big.yaml", "format: commission.procedure/1\n" + string.Concat(Enumerable.Repeat("# a long comment\n", 70_000)))));

    [Fact]
    public void Any_mangled_procedure_gives_problems_with_places_and_never_an_exception()
    {
        var texts = Names.Select(row => File.ReadAllText(Path.Combine(Folder, row.Data))).Concat(ShippedProcedures.Files.Select(File.ReadAllText)).ToArray();
        const string pieces = ":-[]{}&*!|>'\"%@`#, \n\tx0";
        Gen.Select(Gen.Int[0, texts.Length - 1], Gen.Int[0, 100_000], Gen.Int[0, 40], Gen.Int[0, pieces.Length - 1], Gen.Int[0, 3]).SampleFixed((which, at, length, piece, how) =>
        {
            var text = texts[which];
            var place = text.Length == 0 ? 0 : at % text.Length;
            var end = Math.Min(text.Length, place + length);
            var mangled = how switch
            {
                0 => text[..place] + text[end..],
                1 => text[..place] + pieces[piece] + text[place..],
                2 => text[..place] + new string(pieces[piece], length) + text[end..],
                _ => text[..place] + text[place..end] + text[place..end] + text[end..],
            };
            return ProcedureReader.Read("m.yaml", mangled).Match(
                procedure => ProcedureChecker.Check(procedure, Shipped.Surroundings).All(problem => problem.Line > 0),
                problems => problems.Length > 0 && problems.All(problem => problem is { File: "m.yaml", Line: > 0, Column: > 0 }));
        }, iter: 1500);
    }

    private static readonly string[] Sources =
    [
        "StrictYaml.cs", "YamlFields.cs", .. new[] { "CheckReader", "ConditionReader", "DrawingReader", "GridReader", "ProcedureChecker", "ProcedureReader", "StepReader", "TermReader" }.Select(name => Path.Combine("Procedures", name + ".cs")),
    ];

    // The first is tested above; the second is for nodes that no text gives; the rest names a place in a message of its own.
    private static readonly string[] Elsewhere =
    [
        "the file is larger than 1 MB", "a value was expected here", "each entry of 'marks'", "each entry of 'distances'", "each entry of 'things'", "each entry of 'moves'",
    ];

    // What begins small and is more than a word is a message; what begins with a capital is a remedy.
    private static IEnumerable<string> Messages(string source) => Literals().Matches(source).Select(match => match.Groups[1].Value)
        .Where(text => text.Length > 13 && text.Contains(' ', StringComparison.Ordinal) && !char.IsAsciiLetterUpper(text[0]));

    [GeneratedRegex("""\$?"((?:[^"\\{]|\\.|\{\{|\{(?:[^{}"]|"[^"]*")*\})*)" """, RegexOptions.IgnorePatternWhitespace)]
    private static partial Regex Literals();

    [GeneratedRegex(@"\{[^{}]*\}")]
    private static partial Regex Holes();

    private static string[] Problems(string name, string text) =>
        ProcedureReader.Read(name, text).Match(
            procedure => ProcedureChecker.Check(procedure, Shipped.Surroundings).Select(problem => problem.ToString()).ToArray(),
            problems => [.. problems.Select(problem => problem.ToString())]);
}
