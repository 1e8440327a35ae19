namespace Commission.App.Tests.Architecture;

public sealed class MethodLengthsTests
{
    [Fact]
    public void Bodies_of_both_forms_are_measured_from_head_to_end()
    {
        string[] text =
        [
            "internal sealed class Some(int seed)",
            "{",
            "    private readonly int one = Made(\"{\");",
            "",
            "    public int Block(int a)",
            "    {",
            "        if (a > 1) { return '{'; }",
            "        return a; // }",
            "    }",
            "",
            "    private static (int, int) Expression(int a) =>",
            "        (a,",
            "        Other(() => { return a; }));",
            "",
            "    public sealed record Inner(int A);",
            "}",
        ];
        Assert.Equal([new MethodLengths.Method(5, 5), new MethodLengths.Method(11, 3)], MethodLengths.Of(text));
    }
}
