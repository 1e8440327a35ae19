using System.Collections.Immutable;
using System.Text.Json;

namespace Commission.Proof.Digits;

/// <summary>A certified least-squares problem of the published set.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Csv">File with the data, response first.</param>
/// <param name="Columns">Names of the columns.</param>
/// <param name="Degree">Degree of the polynomial in the second column; 0 where all other columns are predictors.</param>
/// <param name="Constant">Whether there is a constant.</param>
/// <param name="Certified">Certified coefficients and standard deviations.</param>
internal sealed record Problem(
    string Name, string Csv, ImmutableArray<string> Columns, int Degree, bool Constant, ImmutableArray<(double Value, double Deviation)> Certified)
{
    public static Problem Read(string file)
    {
        using var document = JsonDocument.Parse(File.ReadAllText(file));
        var root = document.RootElement;
        ImmutableArray<string> columns = [.. root.GetProperty("columns").EnumerateArray().Select(column => column.GetString()!)];
        var certified = root.GetProperty("certified").GetProperty("estimates").EnumerateObject()
            .Select(estimate => (Number(estimate.Value, "value"), Number(estimate.Value, "standard_deviation"))).ToImmutableArray();
        var constant = root.GetProperty("intercept").GetBoolean();
        var degree = columns.Length == 2 && certified.Length > 2 ? certified.Length - 1 : 0;
        return new Problem(Path.GetFileNameWithoutExtension(file), Path.ChangeExtension(file, ".csv"), columns, degree, constant, certified);
    }

    private static double Number(JsonElement estimate, string name) => double.Parse(estimate.GetProperty(name).GetString()!, CultureInfo.InvariantCulture);
}
