using System.Runtime.CompilerServices;

namespace Commission.App.Tests;

/// <summary>Tests wait on their threads for links that live on the pool: it has enough of both, so that no answer grows old because a test waits for it.</summary>
internal static class Threads
{
    private const int Enough = 64;

    [ModuleInitializer]
    public static void Have() => ThreadPool.SetMinThreads(Enough, Enough);
}
