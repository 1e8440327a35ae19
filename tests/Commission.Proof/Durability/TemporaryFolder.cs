namespace Commission.Proof.Durability;

/// <summary>A folder that is gone when its work is done.</summary>
internal sealed class TemporaryFolder : IDisposable
{
    public string Path { get; } = Directory.CreateTempSubdirectory("commission-proof-").FullName;

    /// <summary>A file or folder in it.</summary>
    public string At(string name) => System.IO.Path.Combine(Path, name);

    public void Dispose() => Directory.Delete(Path, recursive: true);
}
