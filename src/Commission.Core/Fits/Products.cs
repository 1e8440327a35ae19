namespace Commission.Core.Fits;

/// <summary>Products of plain vectors and matrices, summed in the order of the indices: results do not depend on who computes them.</summary>
internal static class Products
{
    /// <summary>Sum of the products of two vectors of one length.</summary>
    public static double Dot(double[] a, double[] b)
    {
        var sum = 0.0;
        for (var i = 0; i < a.Length; i++) sum += a[i] * b[i];
        return sum;
    }

    /// <summary>A square matrix times a vector.</summary>
    public static double[] Times(double[,] matrix, double[] x)
    {
        var product = new double[x.Length];
        for (var i = 0; i < x.Length; i++)
            for (var j = 0; j < x.Length; j++) product[i] += matrix[i, j] * x[j];
        return product;
    }
}
