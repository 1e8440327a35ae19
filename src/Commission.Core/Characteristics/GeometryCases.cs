using System.Collections.Immutable;
using Commission.Core.Readings;

namespace Commission.Core.Characteristics;

/// <summary>Outside cases of the kinds that look at a plane: reversal by the standard's formulas, strain rosettes as networks of distances, a plane.</summary>
internal static class GeometryCases
{
    private const string Iso = "Constructed set in the manner of ISO 230-2:2014 (formulas as remembered), results by hand and in exact arithmetic, shared/reference/iso230_2";
    private const string Grid = "Constructed plane on a 3 x 3 grid, exact rational arithmetic and linear programming, shared/reference/geometry";
    private const string Delta = "Strain rosette of three gauges at 60 degrees, mecmovies, textbook example (800, -200, 625 microstrain), scaled to a thousandth";
    private const string Right = "Strain rosette of three gauges at 45 degrees, textbook question (130, -110, 140 microstrain), scaled to a thousandth";

    /// <summary>Reversal and positioning quantities.</summary>
    public static ImmutableArray<PublishedCase> Reversal { get; } = [.. Positions()];

    /// <summary>Shear and normal strain are squareness and scale errors.</summary>
    public static ImmutableArray<PublishedCase> Distances { get; } = [.. Rosettes()];

    /// <summary>A plane and its minimum zone.</summary>
    public static ImmutableArray<PublishedCase> Plane { get; } = [.. Planes()];

    private static IEnumerable<PublishedCase> Positions()
    {
        var set = new Lazy<Dictionary<string, double>>(() => IsoSet.Of([.. PublishedSets.Table("iso230_2/constructed_minimal", words: ["direction"]).Rows
            .GroupBy(row => row["target_mm"]).Select(g => new Place(g.Key, Deviations(g, "up"), Deviations(g, "down")))]));
        foreach (var (name, quantity) in new[]
        {
            ("iso.B", "B"), ("iso.meanB", "B_mean"), ("iso.R", "R"), ("iso.Rup", "R_up"), ("iso.Rdown", "R_dn"), ("iso.E", "E"), ("iso.Eup", "E_up"),
            ("iso.Edown", "E_dn"), ("iso.M", "M"), ("iso.A", "A"), ("iso.Aup", "A_up"), ("iso.Adown", "A_dn"),
        })
            yield return new(Iso, name[4..] + ", um", PublishedSets.Printed("iso230_2/constructed_minimal", "exact_recomputed", "axis", quantity), 13, () => set.Value[name]);
    }

    private static double[] Deviations(IEnumerable<ReadingRow> rows, string direction) =>
        [.. rows.Where(row => row.Words["direction"].StartsWith(direction[..1], StringComparison.Ordinal)).Select(row => row["deviation_um"])];

    // A gauge of length 1 m under an angle reads 1 m times 1 + strain. A thousandth of the strain keeps the exact form to the printed digits.
    private static IEnumerable<PublishedCase> Rosettes()
    {
        var delta = new Lazy<Finding>(() => Rosette((0, 800), (60, -200), (120, 625)));
        yield return new(Delta, "normal strain along Y", "16.67", 3.6, () => delta.Value.Parameters[2].Value!.Value * 1e9);
        yield return new(Delta, "shear strain", "-952.63", 4.8, () => delta.Value.Parameters[0].Value!.Value * 1e9);
        var right = new Lazy<Finding>(() => Rosette((0, 130), (45, -110), (90, 140)));
        yield return new(Right, "normal strain along X", "130", 5, () => right.Value.Parameters[1].Value!.Value * 1e9);
        yield return new(Right, "shear strain", "-490", 5, () => right.Value.Parameters[0].Value!.Value * 1e9);
    }

    private static Finding Rosette(params (double Angle, double Strain)[] gauges)
    {
        const double length = 1000;
        string[] names = ["x1_mm", "y1_mm", "x2_mm", "y2_mm", "distance_mm"];
        var rows = gauges.Select((gauge, i) => new ReadingRow
        {
            Number = i + 1,
            Numbers = names.Zip([0, 0, length * Math.Cos(gauge.Angle * Math.PI / 180), length * Math.Sin(gauge.Angle * Math.PI / 180), length * (1 + gauge.Strain * 1e-9)],
                (name, value) => (name, value)).ToImmutableDictionary(cell => cell.name, cell => cell.value),
            Words = ImmutableDictionary<string, string>.Empty,
        });
        return new Squareness().Evaluate(new ReadingTable { Source = "rosette", Columns = [.. names], Rows = [.. rows] }, new FitOptions()).Require();
    }

    private static IEnumerable<PublishedCase> Planes()
    {
        var fit = new Lazy<Finding>(() => new Flatness().Evaluate(PublishedSets.Table("geometry/plane_3x3"), new FitOptions()).Require());
        string At(params string[] names) => PublishedSets.Printed("geometry/plane_3x3", ["exact_recomputed", .. names]);
        yield return new(Grid, "peak to valley about the least-squares plane, mm", At("vertical_least_squares", "flatness_peak_to_valley_about_ls_plane_mm"), 12, () => fit.Value.Parameters[0].Value!.Value);
        yield return new(Grid, "minimum zone, mm", At("minimum_zone_vertical_mm"), 12, () => fit.Value.Parameters[1].Value!.Value);
        yield return new(Grid, "slope along X", At("vertical_least_squares", "b"), 12, () => fit.Value.Parameters[3].Value!.Value);
        yield return new(Grid, "slope along Y", At("vertical_least_squares", "c"), 12, () => fit.Value.Parameters[4].Value!.Value);
        yield return new(Grid, "residual standard deviation, mm", At("vertical_least_squares", "residual_sd_6_df_mm"), 12, () => fit.Value.ResidualStandardDeviation!.Value);
    }
}
