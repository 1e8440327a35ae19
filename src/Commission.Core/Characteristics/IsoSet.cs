using System.Globalization;

namespace Commission.Core.Characteristics;

/// <summary>The quantities of ISO 230-2 (2014 edition, as remembered) from readings at places, mm.</summary>
internal static class IsoSet
{
    private const int Draws = 400;

    /// <summary>Names of the quantities.</summary>
    public static readonly string[] Names =
        ["iso.B", "iso.meanB", "iso.M", "iso.E", "iso.Eup", "iso.Edown", "iso.R", "iso.Rup", "iso.Rdown", "iso.A", "iso.Aup", "iso.Adown"];

    private static readonly HashSet<string> NeedScatter = ["iso.R", "iso.Rup", "iso.Rdown", "iso.A", "iso.Aup", "iso.Adown"];

    /// <summary>Adds the set to a finding, with the noise floor beside it.</summary>
    public static void AddTo(FindingDraft draft, Place[] places, double? scatter, Func<IReadOnlyList<UncertaintyPart>?> meanParts)
    {
        var repeated = places.All(p => p.Up.Length > 1 && p.Down.Length > 1);
        var values = Of(places);
        foreach (var name in Names)
        {
            if (NeedScatter.Contains(name) && !repeated)
                draft.AddBare(name, "mm", null, "it needs two readings at least from each side of every place");
            else if (name == "iso.meanB")
                draft.Add(name, "mm", values[name], meanParts(), LinearResult.NoScatter);
            else
                draft.AddBare(name, "mm", values[name], "a range of means and scatters; compare it with the noise floor in the remarks");
        }
        var enough = places.Length >= 5 && places.All(p => p.Up.Length >= 5 && p.Down.Length >= 5);
        if (!enough)
            draft.Remarks.Add("This is a short test in the manner of ISO 230-2; the standard asks for five places and five approaches from each side.");
        if (repeated && scatter is { } s)
            Floor(draft, places, s, values["iso.A"]);
    }

    /// <summary>The set, every quantity unsigned but meanB.</summary>
    public static Dictionary<string, double> Of(IReadOnlyList<Place> places)
    {
        double[] up = [.. places.Select(p => p.Up.Average())], down = [.. places.Select(p => p.Down.Average())];
        double[] su = [.. places.Select(p => p.DeviationUp)], sd = [.. places.Select(p => p.DeviationDown)];
        double[] both = [.. up.Zip(down, (a, b) => (a + b) / 2)], reversal = [.. up.Zip(down, (a, b) => a - b)];
        double[] highUp = [.. up.Zip(su, (x, s) => x + 2 * s)], lowUp = [.. up.Zip(su, (x, s) => x - 2 * s)];
        double[] highDown = [.. down.Zip(sd, (x, s) => x + 2 * s)], lowDown = [.. down.Zip(sd, (x, s) => x - 2 * s)];
        var r = Enumerable.Range(0, places.Count)
            .Max(i => Math.Max(2 * su[i] + 2 * sd[i] + Math.Abs(reversal[i]), Math.Max(4 * su[i], 4 * sd[i])));
        return new Dictionary<string, double>
        {
            ["iso.B"] = reversal.Max(Math.Abs),
            ["iso.meanB"] = reversal.Average(),
            ["iso.M"] = both.Max() - both.Min(),
            ["iso.E"] = Math.Max(up.Max(), down.Max()) - Math.Min(up.Min(), down.Min()),
            ["iso.Eup"] = up.Max() - up.Min(),
            ["iso.Edown"] = down.Max() - down.Min(),
            ["iso.R"] = r,
            ["iso.Rup"] = 4 * su.Max(),
            ["iso.Rdown"] = 4 * sd.Max(),
            ["iso.A"] = Math.Max(highUp.Max(), highDown.Max()) - Math.Min(lowUp.Min(), lowDown.Min()),
            ["iso.Aup"] = highUp.Max() - lowUp.Min(),
            ["iso.Adown"] = highDown.Max() - lowDown.Min(),
        };
    }

    /// <summary>Mean of each quantity for an axis without error and readings of scatter 1: fixed draws, the same every time.</summary>
    public static Dictionary<string, double> NoiseFloor(int places, int approaches)
    {
        var sums = Names.ToDictionary(name => name, _ => 0.0);
        var draw = new FixedDraws();
        for (var k = 0; k < Draws; k++)
        {
            var set = Of([.. Enumerable.Range(0, places).Select(i => new Place(i, draw.Normals(approaches), draw.Normals(approaches)))]);
            foreach (var name in Names)
                sums[name] += Math.Abs(set[name]) / Draws;
        }
        return sums;
    }

    private static void Floor(FindingDraft draft, Place[] places, double scatter, double a)
    {
        var floor = NoiseFloor(Math.Min(places.Length, 20), Math.Min(places.Min(p => Math.Min(p.Up.Length, p.Down.Length)), 20));
        draft.Remarks.Add(string.Create(CultureInfo.InvariantCulture,
            $"Noise floor, an axis without error read with this scatter: B {floor["iso.B"] * scatter:0.000}, M {floor["iso.M"] * scatter:0.000}, E {floor["iso.Eup"] * scatter:0.000}, R {floor["iso.R"] * scatter:0.000}, A {floor["iso.A"] * scatter:0.000} mm."));
        if (a < 1.2 * floor["iso.A"] * scatter)
            draft.Remarks.Add("A is no larger than the noise floor: the instrument limits this test, not the axis.");
    }
}

/// <summary>A fixed stream of normal deviates (a mixed counter through the normal quantile): the same on every run, so that nothing here is random.</summary>
internal sealed class FixedDraws
{
    private ulong state = 0x9E3779B97F4A7C15;

    /// <summary>The next deviates, mean 0 and standard deviation 1.</summary>
    public double[] Normals(int count)
    {
        var values = new double[count];
        for (var i = 0; i < count; i++)
            values[i] = MathNet.Numerics.Distributions.Normal.InvCDF(0, 1, Uniform());
        return values;
    }

    private double Uniform()
    {
        state += 0x9E3779B97F4A7C15;
        var z = state;
        z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9;
        z = (z ^ (z >> 27)) * 0x94D049BB133111EB;
        return (((z ^ (z >> 31)) >> 11) + 0.5) / (1UL << 53);
    }
}
