using Commission.Core.Procedures;
using Commission.Tests;
using CsCheck;
using Xunit;

namespace Commission.Core.Tests.Procedures;

/// <summary>One file for each message in <c>tests/BadProcedures</c>; <c>expected.txt</c> there holds message, line and column, as they are shown.</summary>
public sealed class BadProceduresTests
{
    private static string Folder => Path.Combine(Shipped.Root, "tests", "BadProcedures");

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

    [Fact]
    public void Any_mangled_procedure_gives_problems_with_places_and_never_an_exception()
    {
        var texts = Names.Select(row => File.ReadAllText(Path.Combine(Folder, row.Data))).Concat(Shipped.Files.Select(File.ReadAllText)).ToArray();
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

    private static string[] Problems(string name, string text) =>
        ProcedureReader.Read(name, text).Match(
            procedure => ProcedureChecker.Check(procedure, Shipped.Surroundings).Select(problem => problem.ToString()).ToArray(),
            problems => [.. problems.Select(problem => problem.ToString())]);
}
