using Commission.Core.Motion;
using Commission.Tests;

namespace Commission.Core.Tests.Motion;

public class MotionGuideTests
{
    [Fact]
    public void The_guide_prints_each_row_with_its_own_words()
    {
        var lines = MotionTable.Guide().Split('\n');
        Assert.Equal("| state | entered by | may be sent | left by |", lines[0]);
        Assert.Equal(MotionTable.Rows.Length + 2, lines.Length);
        Assert.All(MotionTable.Rows, row => Assert.StartsWith(
            $"| {row.State.ToString().ToLowerInvariant()} | {row.EnteredBy} |", lines[(int)row.State + 2], StringComparison.Ordinal));
    }

    [Fact]
    public void The_developers_guide_carries_the_table_of_the_code_word_for_word()
    {
        var page = Repository.Text("src", "Commission.Core", "Motion", "README.md");
        Assert.Contains("\n\n" + MotionTable.Guide() + "\n\n", page);
        Assert.Contains("src/Commission.Core/Motion/README.md", Repository.Text("DEVELOPERS.md"));
    }
}
