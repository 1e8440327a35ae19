namespace Commission.Tests;

/// <summary>A folder for each test, gone afterwards.</summary>
public abstract class OwnFolder : IDisposable
{
    protected string Folder { get; } = Directory.CreateTempSubdirectory("commission-test-").FullName;

    public void Dispose()
    {
        Close();
        Directory.Delete(Folder, recursive: true);
        GC.SuppressFinalize(this);
    }

    /// <summary>What is open in the folder is closed before it goes.</summary>
    protected virtual void Close()
    {
    }
}
