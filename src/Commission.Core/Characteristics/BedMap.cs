using MathNet.Numerics.LinearAlgebra;

namespace Commission.Core.Characteristics;

/// <summary>Heights probed over a surface, repeats at one place put together. Ranges and slopes come as combinations of the single heights, so that their covariance follows.</summary>
internal sealed class BedMap
{
    private readonly HeightPoint[] heights;
    private readonly int[][] rows;
    private readonly double[][] plane;

    /// <summary>A map of heights as read, at three places at least that do not lie in line.</summary>
    public BedMap(HeightPoint[] heights)
    {
        this.heights = heights;
        rows = [.. heights.Select((p, i) => (p, i)).GroupBy(h => (h.p.X, h.p.Y), h => h.i).Select(g => g.ToArray())];
        Places = [.. rows.Select(own => heights[own[0]] with { Z = own.Average(i => heights[i].Z) })];
        (CentreX, CentreY) = (heights.Average(p => p.X), heights.Average(p => p.Y));
        var design = Matrix<double>.Build.Dense(heights.Length, 3, (i, j) => j == 0 ? heights[i].X - CentreX : j == 1 ? heights[i].Y - CentreY : 1);
        plane = (design.TransposeThisAndMultiply(design).Inverse() * design.Transpose()).ToRowArrays();
    }

    /// <summary>One height for each place, the mean of its repeats.</summary>
    public HeightPoint[] Places { get; }

    /// <summary>Whether any place was probed more than once.</summary>
    public bool Repeated => Places.Length < heights.Length;

    /// <summary>Mean X of the heights, mm.</summary>
    public double CentreX { get; }

    /// <summary>Mean Y of the heights, mm.</summary>
    public double CentreY { get; }

    /// <summary>Slope of the least-squares plane along X (0) or Y (1).</summary>
    public double[] Slope(int axis) => plane[axis];

    /// <summary>Highest less lowest place about the least-squares plane.</summary>
    public double[] PeakToValley()
    {
        double[] off = [.. Places.Select((_, k) => Value(AboutPlane(k)))];
        return Less(AboutPlane(Array.IndexOf(off, off.Max())), AboutPlane(Array.IndexOf(off, off.Min())));
    }

    /// <summary>Distance of the two planes that hold all places, from the four places they touch.</summary>
    public double[] Zone()
    {
        var combination = new double[heights.Length];
        foreach (var (place, weight) in MinimumZone.Of(Places))
            foreach (var row in rows[place]) combination[row] += weight / rows[place].Length;
        return combination;
    }

    /// <summary>Highest less lowest height as read.</summary>
    public double[] RawRange()
    {
        double[] z = [.. heights.Select(p => p.Z)];
        return Less(Single(Array.IndexOf(z, z.Max())), Single(Array.IndexOf(z, z.Min())));
    }

    /// <summary>Value of a combination.</summary>
    public double Value(double[] combination) => combination.Zip(heights, (a, p) => a * p.Z).Sum();

    private double[] AboutPlane(int place)
    {
        var (p, own) = (Places[place], rows[place]);
        return [.. heights.Select((_, i) => (own.Contains(i) ? 1.0 / own.Length : 0)
            - (plane[0][i] * (p.X - CentreX)) - (plane[1][i] * (p.Y - CentreY)) - plane[2][i])];
    }

    private double[] Single(int row) => [.. heights.Select((_, i) => i == row ? 1.0 : 0)];

    private static double[] Less(double[] a, double[] b) => [.. a.Zip(b, (x, y) => x - y)];
}
