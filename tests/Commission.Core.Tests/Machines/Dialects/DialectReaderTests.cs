using Commission.Core.Machines.Dialects;
using Commission.Core.Motion;
using Commission.Tests;
using CsCheck;

namespace Commission.Core.Tests.Machines.Dialects;

public class DialectReaderTests
{
    public static TheoryData<string> Shipped => [.. ShippedDialects.Names];

    [Theory]
    [MemberData(nameof(Shipped))]
    public void A_shipped_dialect_reads_without_a_problem_and_says_that_it_is_from_memory(string name)
    {
        var dialect = ShippedDialects.Find(name)!;
        Assert.Equal(name, dialect.Name);
        Assert.Equal("from memory, to be checked on hardware", dialect.Source);
        Assert.All(Enum.GetValues<AxisName>(), axis => Assert.NotNull(dialect.Settings.Find("stepsPerMm", axis)));
    }

    [Theory]
    [MemberData(nameof(Shipped))]
    public void No_shipped_motion_line_holds_a_word_that_begins_with_m_s_or_t(string name)
    {
        var dialect = ShippedDialects.Find(name)!;
        Assert.All(MotionLines.Of(dialect, new(AxisName.Z, -1.5, 120)).Concat(dialect.Motion.Home).Append(dialect.Motion.Unlock ?? ""),
            line => Assert.DoesNotContain(line, letter => "MSTmst".Contains(letter)));
    }

    [Fact]
    public void Stop_bytes_are_bytes_and_a_line_stop_has_a_spoiling_text()
    {
        Assert.Equal("\u0018", ShippedDialects.Find("numbered-settings")!.Stop.Code);
        Assert.Equal("*999", ShippedDialects.Find("letter-words")!.Stop.Spoil);
    }

    [Theory]
    [InlineData("  drives: unknown", "  drives: asleep", "'drives' is 'asleep'")]
    [InlineData("  home: [\"$H\"]", "  home: [\"M3 $H\"]", "begins with M, S or T")]
    [InlineData("{axis}{distance}", "{distance}", "does not name {axis}")]
    [InlineData("  code: \"0x18\"", "  code: \"0x0A\"", "no stop byte")]
    [InlineData("  how: byte", "  how: line", "'spoil' is missing")]
    [InlineData("baud: 115200", "baud: fast", "not a number")]
    [InlineData("baud: 115200", "baud: 115200\nbauds: 1", "'bauds' is not known")]
    [InlineData("key: \"101\"", "key: \"100\"", "given twice")]
    [InlineData("  home: [\"$H\"]", "  home: [\"$H and so on until the line is longer than the controller takes, eighty characters\"]", "is longer than longestLine, 80")]
    [InlineData("commission.dialect/1", "commission.dialect/9", "not a format")]
    public void A_wrong_line_is_told_with_its_place(string right, string wrong, string told)
    {
        var text = ShippedDialects.Text("numbered-settings").Replace(right, wrong, StringComparison.Ordinal);
        var problems = Assert.IsType<Outcome<Dialect>.Bad>(DialectReader.Read("mine.yaml", text)).Problems;
        Assert.Contains(problems, problem => problem.What.Contains(told, StringComparison.Ordinal) && problem is { File: "mine.yaml", Line: > 0, Column: > 0 });
    }

    [Fact]
    public void A_mutated_file_is_read_or_refused_and_never_ends_in_an_exception()
    {
        var text = ShippedDialects.Text("letter-words");
        Gen.Select(Gen.Int[0, text.Length - 1], Gen.Int[0, 40], Gen.String[Gen.Char[" \t:-[]{}'\"#&*!|>%@`M0\0"], 0, 6]).SampleFixed((at, cut, put) =>
        {
            var mutated = text[..at] + put + text[Math.Min(text.Length, at + cut)..];
            Assert.NotNull(DialectReader.Read("mutated.yaml", mutated));
        }, iter: 300);
    }
}
