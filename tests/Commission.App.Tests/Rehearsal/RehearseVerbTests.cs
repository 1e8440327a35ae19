using System.Text.Json;
using Commission.App.Tests.CommandLine;

namespace Commission.App.Tests.Rehearsal;

public sealed class RehearseVerbTests : TypedRequests
{
    [Fact]
    public async Task A_walk_ends_with_the_document_of_the_contract()
    {
        var ended = await Typed.Run("rehearse", "--seed", "2", "--walk", "axis-scale", "--json");
        Assert.Equal(0, ended.Code);
        using var document = JsonDocument.Parse(ended.Lines[^1]);
        Assert.Equal("commission.walk/1", document.RootElement.GetProperty("format").GetString());
        Assert.Equal(2, document.RootElement.GetProperty("seed").GetInt32());
        var first = document.RootElement.GetProperty("results")[0];
        Assert.Equal("axis-scale", first.GetProperty("characteristic").GetString());
        Assert.Equal("X", first.GetProperty("axis").GetString());
        Assert.Equal("scaleError", first.GetProperty("parameter").GetString());
    }

    [Fact]
    public async Task A_procedure_that_is_not_there_is_refused_with_those_that_are()
    {
        var ended = await Typed.Run("rehearse", "--walk", "axis-scael");
        Assert.Equal(2, ended.Code);
        Assert.Contains("axis-scale", ended.Error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_store_is_not_kept_without_a_folder()
    {
        var ended = await Typed.Run("rehearse", "--walk", "axis-scale", "--keep");
        Assert.Equal(2, ended.Code);
        Assert.Contains("--store", ended.Error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_a_walk_found_comes_out_again_from_its_journal_and_can_be_reported()
    {
        await Typed.RunIn(Store, "", "rehearse", "--seed", "2", "--walk", "square-reversal", "tram", "--keep", "--store", Store);
        var again = await Typed.RunIn(Store, "", "history", "recompute");
        Assert.Equal(0, again.Code);
        Assert.Equal(2, again.Lines.Count(line => line.EndsWith(": the same", StringComparison.Ordinal)));
        Assert.Equal(0, (await Typed.RunIn(Store, "", "report", "--out", At("r.html"))).Code);
        Assert.Contains("Both set-ups of the square", await File.ReadAllTextAsync(At("r.html"), TestContext.Current.CancellationToken), StringComparison.Ordinal);
    }
}
