using CsCheck;

namespace Commission.Tests;

/// <summary>
/// The same draws at every run, so that a run tells of the change and not of its luck; a failure prints the draw and its seed.
/// With <c>CsCheck_Time</c> or <c>CsCheck_Iter</c> set, new draws for so many seconds or so many times.
/// A seed given to CsCheck itself fixes the first draw alone.
/// </summary>
internal static class FixedDraws
{
    private const ulong Seed = 20261125;

    private static readonly bool New = (Environment.GetEnvironmentVariable("CsCheck_Time") ?? Environment.GetEnvironmentVariable("CsCheck_Iter")) is not null;

    public static void SampleFixed<T>(this Gen<T> draws, Action<T> check, int iter = 100)
    {
        if (New)
        {
            draws.Sample(check);
            return;
        }

        for (var i = 0U; i < iter; i++)
            draws.Sample(check, iter: 1, threads: 1, seed: new PCG(i, Seed).ToString());
    }

    public static void SampleFixed<T>(this Gen<T> draws, Func<T, bool> check, int iter = 100) => draws.SampleFixed(drawn => Assert.True(check(drawn)), iter);

    public static void SampleFixed<T1, T2>(this Gen<(T1, T2)> draws, Action<T1, T2> check, int iter = 100) =>
        draws.SampleFixed(drawn => check(drawn.Item1, drawn.Item2), iter);

    public static void SampleFixed<T1, T2>(this Gen<(T1, T2)> draws, Func<T1, T2, bool> check, int iter = 100) =>
        draws.SampleFixed(drawn => check(drawn.Item1, drawn.Item2), iter);

    public static void SampleFixed<T1, T2, T3>(this Gen<(T1, T2, T3)> draws, Action<T1, T2, T3> check, int iter = 100) =>
        draws.SampleFixed(drawn => check(drawn.Item1, drawn.Item2, drawn.Item3), iter);

    public static void SampleFixed<T1, T2, T3>(this Gen<(T1, T2, T3)> draws, Func<T1, T2, T3, bool> check, int iter = 100) =>
        draws.SampleFixed(drawn => check(drawn.Item1, drawn.Item2, drawn.Item3), iter);

    public static void SampleFixed<T1, T2, T3, T4>(this Gen<(T1, T2, T3, T4)> draws, Action<T1, T2, T3, T4> check, int iter = 100) =>
        draws.SampleFixed(drawn => check(drawn.Item1, drawn.Item2, drawn.Item3, drawn.Item4), iter);

    public static void SampleFixed<T1, T2, T3, T4>(this Gen<(T1, T2, T3, T4)> draws, Func<T1, T2, T3, T4, bool> check, int iter = 100) =>
        draws.SampleFixed(drawn => check(drawn.Item1, drawn.Item2, drawn.Item3, drawn.Item4), iter);

    public static void SampleFixed<T1, T2, T3, T4, T5>(this Gen<(T1, T2, T3, T4, T5)> draws, Action<T1, T2, T3, T4, T5> check, int iter = 100) =>
        draws.SampleFixed(drawn => check(drawn.Item1, drawn.Item2, drawn.Item3, drawn.Item4, drawn.Item5), iter);

    public static void SampleFixed<T1, T2, T3, T4, T5>(this Gen<(T1, T2, T3, T4, T5)> draws, Func<T1, T2, T3, T4, T5, bool> check, int iter = 100) =>
        draws.SampleFixed(drawn => check(drawn.Item1, drawn.Item2, drawn.Item3, drawn.Item4, drawn.Item5), iter);

    public static void SampleFixed<T1, T2, T3, T4, T5, T6, T7>(this Gen<(T1, T2, T3, T4, T5, T6, T7)> draws, Func<T1, T2, T3, T4, T5, T6, T7, bool> check, int iter = 100) =>
        draws.SampleFixed(drawn => check(drawn.Item1, drawn.Item2, drawn.Item3, drawn.Item4, drawn.Item5, drawn.Item6, drawn.Item7), iter);
}
