using System.Globalization;
using System.Text.Json;
using Commission.App.Tests.Architecture;
using Commission.Tests;

namespace Commission.App.Tests.CommandLine;

/// <summary>Files through the program itself, as a person would run it.</summary>
public sealed class FitTests
{
    private static readonly string Linewidth = Repository.At("shared", "reference", "ehandbook", "linewidth_calibration.csv");

    // NIST/SEMATECH e-Handbook of Statistical Methods, 2.3.6.7.3: a = 0.2357623 (0.02430034), b = 0.9870377 (0.00344058), residual
    // standard deviation 0.06203 with 38 degrees of freedom. Tolerance: half a unit of the last digit printed.
    [Theory]
    [InlineData("constant", "value", 0.2357623, 0.5e-7)]
    [InlineData("constant", "standardUncertainty", 0.02430034, 0.5e-8)]
    [InlineData("x_reference_um", "value", 0.9870377, 0.5e-7)]
    [InlineData("x_reference_um", "standardUncertainty", 0.00344058, 0.5e-8)]
    public async Task The_linewidth_calibration_comes_out_as_published(string parameter, string member, double published, double tolerance)
    {
        using var json = await Fit(Linewidth);
        var found = json.RootElement.GetProperty("parameters").EnumerateArray().Single(p => p.GetProperty("name").GetString() == parameter);
        Assert.Equal(published, found.GetProperty(member).GetDouble(), tolerance);
    }

    [Fact]
    public async Task The_linewidth_residuals_scatter_as_published()
    {
        using var json = await Fit(Linewidth);
        Assert.Equal(0.06203, json.RootElement.GetProperty("residualStandardDeviation").GetDouble(), 0.5e-5);
        Assert.Equal(40, json.RootElement.GetProperty("used").GetInt32());
    }

    [Fact]
    public async Task A_person_gets_the_same_numbers_in_lines()
    {
        var ending = await Typed.Run("fit", "columns", Linewidth, "--response", "y_measured_um", "--predictors", "x_reference_um");
        Assert.Equal(0, ending.Code);
        Assert.Contains(ending.Lines, line => line.Contains("+0.9870 ", StringComparison.Ordinal) && line.Contains("0.0070", StringComparison.Ordinal));
        Assert.Contains("verdict: none", ending.Lines);
    }

    [Fact]
    public async Task Every_number_of_the_answer_reads_back_as_it_was()
    {
        using var json = await Fit(Linewidth);
        var raw = json.RootElement.GetProperty("residuals")[0].GetRawText();
        Assert.Equal(double.Parse(raw, CultureInfo.InvariantCulture).ToString("G17", CultureInfo.InvariantCulture), raw);
    }

    [Fact]
    public async Task A_missing_file_is_a_problem_with_its_name()
    {
        var ending = await Typed.Run("fit", "columns", "no-such-file.csv", "--response", "y", "--predictors", "x");
        Assert.Equal(2, ending.Code);
        Assert.StartsWith("no-such-file.csv:1:1: ", ending.Error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task All_options_that_cannot_be_understood_are_named_at_once()
    {
        var ending = await Typed.Run("fit", "columns", Linewidth, "--response", "y_measured_um", "--predictors", "x_reference_um", "--tolerance", "300", "--screw-grade", "4", "--coverage", "1,234");
        Assert.Equal(2, ending.Code);
        Assert.Equal(3, ending.Error.Split('\n', StringSplitOptions.RemoveEmptyEntries).Length);
    }

    private static async Task<JsonDocument> Fit(string file)
    {
        var ending = await Typed.Run("fit", "columns", file, "--response", "y_measured_um", "--predictors", "x_reference_um", "--json");
        Assert.Equal("", ending.Error);
        Assert.Equal(0, ending.Code);
        return JsonDocument.Parse(ending.Out);
    }
}
