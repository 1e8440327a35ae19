namespace Commission.Adapters.Serial;

/// <summary>One run of the program per port: the system's own exclusion lets some users through.</summary>
internal sealed class PortLock : IDisposable
{
    private readonly FileStream file;

    private PortLock(FileStream file) => this.file = file;

    /// <summary>Takes the lock; null where another run holds it. A crash releases it.</summary>
    public static PortLock? Take(string port)
    {
        var real = ResolvedName(port);
        var name = "commission-port-" + string.Concat(real.Select(letter => char.IsAsciiLetterOrDigit(letter) ? letter : '-'));
        try
        {
            return new(new FileStream(Path.Combine(Path.GetTempPath(), name), FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None));
        }
        catch (Exception taken) when (taken is IOException or UnauthorizedAccessException)
        {
            return null;
        }
    }

    // Two names of one device are one port.
    private static string ResolvedName(string port)
    {
        try
        {
            return File.ResolveLinkTarget(port, returnFinalTarget: true)?.FullName ?? port;
        }
        catch (IOException)
        {
            return port;
        }
    }

    public void Dispose() => file.Dispose();
}
