using System.Numerics;

namespace Commission.Practice.Draws;

/// <summary>The one source of chance of the practice machine: same seed, same numbers, on every platform.</summary>
/// <remarks>
/// xoshiro256** by Blackman and Vigna (ACM Transactions on Mathematical Software 47, 2021), its state filled by splitmix64
/// (Steele, Lea, Flood, OOPSLA 2014). Normal numbers by the polar method (Marsaglia and Bray, 1964) on <see cref="PortableMath"/>.
/// </remarks>
public sealed class DrawSource
{
    private readonly ulong _seed;
    private ulong _s0;
    private ulong _s1;
    private ulong _s2;
    private ulong _s3;
    private double? _spare;

    /// <summary>A source for a seed.</summary>
    public DrawSource(ulong seed)
    {
        _seed = seed;
        var state = seed;
        _s0 = SplitMix(ref state);
        _s1 = SplitMix(ref state);
        _s2 = SplitMix(ref state);
        _s3 = SplitMix(ref state);
    }

    /// <summary>A source of its own for one purpose, so that a draw added elsewhere changes nothing here. Takes no draw.</summary>
    public DrawSource For(string purpose)
    {
        var hash = 14695981039346656037UL; // FNV-1a, 64 bits
        foreach (var letter in purpose)
            hash = (hash ^ letter) * 1099511628211UL;
        return new DrawSource(_seed ^ hash);
    }

    /// <summary>A source of its own for one of many like things.</summary>
    public DrawSource For(string purpose, long number)
    {
        var state = (ulong)number;
        return new DrawSource(For(purpose)._seed ^ SplitMix(ref state));
    }

    /// <summary>The next 64 bits.</summary>
    public ulong NextBits()
    {
        var result = BitOperations.RotateLeft(_s1 * 5, 7) * 9;
        var shifted = _s1 << 17;
        _s2 ^= _s0;
        _s3 ^= _s1;
        _s1 ^= _s2;
        _s0 ^= _s3;
        _s2 ^= shifted;
        _s3 = BitOperations.RotateLeft(_s3, 45);
        return result;
    }

    /// <summary>Uniform in [0, 1).</summary>
    public double NextUnit() => (NextBits() >> 11) * (1.0 / (1UL << 53));

    /// <summary>Uniform between two limits.</summary>
    public double NextUniform(double low, double high) => low + ((high - low) * NextUnit());

    /// <summary>A whole number from 0 to <paramref name="count"/> - 1.</summary>
    public int NextIndex(int count) => (int)Math.BigMul(NextBits(), (ulong)count, out _);

    /// <summary>True with a probability.</summary>
    public bool NextChance(double probability) => NextUnit() < probability;

    /// <summary>-1 or +1.</summary>
    public int NextSign() => (NextBits() >> 63) == 0 ? 1 : -1;

    /// <summary>Normal with mean 0 and standard deviation 1.</summary>
    public double NextNormal()
    {
        if (_spare is { } kept)
        {
            _spare = null;
            return kept;
        }

        while (true)
        {
            var u = NextUniform(-1, 1);
            var v = NextUniform(-1, 1);
            var square = (u * u) + (v * v);
            if (square is >= 1 or 0)
                continue;
            var factor = Math.Sqrt(-2 * PortableMath.Log(square) / square);
            _spare = v * factor;
            return u * factor;
        }
    }

    /// <summary>An index by weights; weights need not add up to 1.</summary>
    public int NextWeighted(ReadOnlySpan<double> weights)
    {
        var total = 0.0;
        foreach (var weight in weights)
            total += weight;
        var left = NextUnit() * total;
        for (var i = 0; i < weights.Length - 1; i++)
        {
            left -= weights[i];
            if (left < 0)
                return i;
        }

        return weights.Length - 1;
    }

    private static ulong SplitMix(ref ulong state)
    {
        var z = state += 0x9E3779B97F4A7C15UL;
        z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9UL;
        z = (z ^ (z >> 27)) * 0x94D049BB133111EBUL;
        return z ^ (z >> 31);
    }
}
