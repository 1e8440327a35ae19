using Commission.Core.Motion;
using Xunit;

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
}
