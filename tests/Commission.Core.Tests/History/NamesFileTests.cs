using Commission.Core.History;

namespace Commission.Core.Tests.History;

public sealed class NamesFileTests
{
    [Fact]
    public void Handles_have_their_names()
    {
        var names = NamesFile.Read("# who is who\r\nkit: Kit of the shop\n\n ana : Ana: the other one\n", "names.txt").Require();
        Assert.Equal("Kit of the shop", names["kit"]);
        Assert.Equal("Ana: the other one", names["ana"]);
    }

    [Fact]
    public void Every_line_that_is_none_is_told()
    {
        var bad = Assert.IsType<Outcome<System.Collections.Immutable.ImmutableSortedDictionary<string, string>>.Bad>(NamesFile.Read("kit\nkit: a\nkit: b", "names.txt"));
        Assert.Equal([1L, 3L], bad.Problems.Select(problem => problem.Line));
    }
}
