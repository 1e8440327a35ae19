using System.Buffers.Binary;
using System.Numerics;

namespace Commission.Core.Quantities;

/// <summary>
/// SHA-256 of FIPS 180-4. Our own, because the framework's ends the process where the system has no OpenSSL,
/// and a journal that cannot be verified on such a machine is no journal.
/// </summary>
public static class Sha256
{
    private const int BlockBytes = 64;

    // First 32 bits of the fractional parts of the cube roots of the first 64 primes (FIPS 180-4, 4.2.2).
    private static readonly uint[] Rounds = RootFractions(64, Math.Cbrt);

    // First 32 bits of the fractional parts of the square roots of the first 8 primes (FIPS 180-4, 5.3.3).
    private static readonly uint[] Start = RootFractions(8, Math.Sqrt);

    /// <summary>The hash as 64 lower-case hexadecimal digits.</summary>
    /// <param name="data">What is hashed.</param>
    public static string Hex(ReadOnlySpan<byte> data)
    {
        Span<byte> hash = stackalloc byte[32];
        Hash(data, hash);
        return Convert.ToHexStringLower(hash);
    }

    /// <summary>Writes the hash.</summary>
    /// <param name="data">What is hashed.</param>
    /// <param name="hash">Receives 32 bytes.</param>
    public static void Hash(ReadOnlySpan<byte> data, Span<byte> hash)
    {
        Span<uint> state = stackalloc uint[8];
        Span<uint> schedule = stackalloc uint[64];
        Start.CopyTo(state);
        var whole = data.Length - (data.Length % BlockBytes);
        for (var at = 0; at < whole; at += BlockBytes)
            Mix(data.Slice(at, BlockBytes), state, schedule);

        // The rest, one bit 1, zeros, and the length in bits fill one block or two.
        Span<byte> tail = stackalloc byte[2 * BlockBytes];
        tail.Clear();
        var rest = data[whole..];
        rest.CopyTo(tail);
        tail[rest.Length] = 0x80;
        var tailBytes = rest.Length + 9 <= BlockBytes ? BlockBytes : 2 * BlockBytes;
        BinaryPrimitives.WriteInt64BigEndian(tail[(tailBytes - 8)..], data.Length * 8L);
        for (var at = 0; at < tailBytes; at += BlockBytes)
            Mix(tail.Slice(at, BlockBytes), state, schedule);

        for (var i = 0; i < state.Length; i++)
            BinaryPrimitives.WriteUInt32BigEndian(hash[(4 * i)..], state[i]);
    }

    private static void Mix(ReadOnlySpan<byte> block, Span<uint> state, Span<uint> w)
    {
        for (var i = 0; i < 16; i++)
            w[i] = BinaryPrimitives.ReadUInt32BigEndian(block[(4 * i)..]);
        for (var i = 16; i < 64; i++)
        {
            var small0 = Right(w[i - 15], 7) ^ Right(w[i - 15], 18) ^ (w[i - 15] >> 3);
            var small1 = Right(w[i - 2], 17) ^ Right(w[i - 2], 19) ^ (w[i - 2] >> 10);
            w[i] = w[i - 16] + small0 + w[i - 7] + small1;
        }

        var (a, b, c, d) = (state[0], state[1], state[2], state[3]);
        var (e, f, g, h) = (state[4], state[5], state[6], state[7]);
        var rounds = Rounds;
        for (var i = 0; i < rounds.Length; i++)
        {
            var first = h + (Right(e, 6) ^ Right(e, 11) ^ Right(e, 25)) + ((e & f) ^ (~e & g)) + rounds[i] + w[i];
            var second = (Right(a, 2) ^ Right(a, 13) ^ Right(a, 22)) + ((a & b) ^ (a & c) ^ (b & c));
            (h, g, f, e) = (g, f, e, d + first);
            (d, c, b, a) = (c, b, a, first + second);
        }

        state[0] += a;
        state[1] += b;
        state[2] += c;
        state[3] += d;
        state[4] += e;
        state[5] += f;
        state[6] += g;
        state[7] += h;
    }

    private static uint Right(uint value, int bits) => BitOperations.RotateRight(value, bits);

    private static uint[] RootFractions(int count, Func<double, double> root)
    {
        var fractions = new List<uint>(count);
        for (var candidate = 2; fractions.Count < count; candidate++)
        {
            if (Enumerable.Range(2, candidate - 2).All(divisor => candidate % divisor != 0))
                fractions.Add((uint)(root(candidate) % 1 * 4294967296.0));
        }

        return [.. fractions];
    }
}
