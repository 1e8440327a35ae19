namespace Commission.Tests;

/// <summary>How long a test waits for what must come. No measure of anything: a busy machine takes long, and what never comes must still end.</summary>
internal static class Patience
{
    public static readonly TimeSpan Longest = TimeSpan.FromSeconds(60);
}
