namespace Commission.Core.Quantities;

/// <summary>Gauss-Legendre nodes and weights on the interval from -1 to 1; the weights add up to 2.</summary>
internal static class GaussLegendre
{
    /// <summary>The rule with twelve points.</summary>
    public static (double Node, double Weight)[] Twelve { get; } = Rule(12);

    private static (double Node, double Weight)[] Rule(int n)
    {
        var rule = new (double, double)[n];
        for (var i = 0; i < n; i++)
        {
            // Newton's method on the Legendre polynomial, from the usual guess.
            var x = Math.Cos(Math.PI * (i + .75) / (n + .5));
            double slope = 1;
            for (var k = 0; k < 50; k++)
            {
                double last = 1, here = x;
                for (var j = 2; j <= n; j++) (last, here) = (here, ((((2 * j) - 1) * x * here) - ((j - 1) * last)) / j);
                slope = n * ((x * here) - last) / ((x * x) - 1);
                var step = here / slope;
                x -= step;
                if (Math.Abs(step) < 1e-16) break;
            }

            rule[i] = (x, 2 / ((1 - (x * x)) * slope * slope));
        }

        return rule;
    }
}
