using System.Text.Json;
using Commission.Tests;

namespace Commission.App.Tests.CommandLine;

public sealed class PlanTests
{
    private static Task<Typed.Ending> Plan(params string[] more) => Typed.Run(["plan", "axis-scale", "--travel-mm", "420,580,90", "--lead-mm", "5", "--steps-per-mm", "320", .. more]);

    [Fact]
    public async Task A_plan_has_its_format_rows_in_order_and_naive_practice_beside_it()
    {
        var ending = await Plan("--axis", "Y", "--instrument", "caliper-150", "--tolerance", "800ppm", "--operator-sd-mm", "0.02", "--operator-dof", "14", "--json");
        Assert.Equal(0, ending.Code);
        using var json = JsonDocument.Parse(ending.Out);
        var root = json.RootElement;
        Assert.Equal("commission.plan/1", root.GetProperty("format").GetString());
        Assert.Equal("Y", root.GetProperty("axis").GetString());
        Assert.True(root.GetProperty("reachable").GetBoolean());
        Assert.Equal(400e-6, root.GetProperty("wanted").GetDouble(), 12);
        Assert.True(root.GetProperty("predictedExpandedUncertainty").GetDouble() <= 400e-6);
        Assert.Equal(root.GetProperty("readings").GetInt32(), root.GetProperty("rows").GetArrayLength());
        Assert.True(root.GetProperty("naive")[0].GetProperty("predictedExpandedUncertainty").GetDouble() > root.GetProperty("predictedExpandedUncertainty").GetDouble());
    }

    [Fact]
    public async Task The_schema_names_the_members_of_a_plan_and_no_others()
    {
        using var schema = JsonDocument.Parse(await File.ReadAllTextAsync(Repository.At("shared", "schemas", "plan.schema.json"), TestContext.Current.CancellationToken));
        using var plan = JsonDocument.Parse((await Plan("--json")).Out);
        static IEnumerable<string> Names(JsonElement of) => of.EnumerateObject().Select(member => member.Name).Order(StringComparer.Ordinal);
        Assert.Equal(Names(schema.RootElement.GetProperty("properties")), Names(plan.RootElement));
        Assert.Equal(Names(schema.RootElement.GetProperty("$defs").GetProperty("way").GetProperty("properties")), Names(plan.RootElement.GetProperty("naive")[0]));
    }

    [Fact]
    public async Task What_no_number_of_repeats_reaches_is_said_and_ends_with_one()
    {
        var ending = await Plan("--instrument", "caliper-150", "--wanted", "100ppm");
        Assert.Equal(1, ending.Code);
        Assert.Contains(ending.Lines, line => line.StartsWith("because: No number of repeats reaches", StringComparison.Ordinal));
        Assert.Contains(ending.Lines, line => line.Contains("needs a setting rod", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("plan", "axis-scale")]
    [InlineData("plan", "axis-scale", "--travel-mm", "420,580")]
    [InlineData("plan", "axis-scale", "--travel-mm", "420,580,90", "--obstacle", "X 1 2")]
    [InlineData("plan", "axis-scale", "--travel-mm", "420,580,90", "--tolerance", "300")]
    [InlineData("plan", "flatness")]
    public async Task Requests_that_cannot_be_planned_are_refused_with_two(params string[] arguments)
    {
        var ending = await Typed.Run(arguments);
        Assert.Equal(2, ending.Code);
        Assert.NotEmpty(ending.Error);
        Assert.Empty(ending.Out);
    }
}
