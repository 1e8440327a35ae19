using Commission.Adapters.Storage;
using Microsoft.Extensions.Time.Testing;

namespace Commission.App.Tests.Screens;

/// <summary>A store of a real machine in a folder of its own, for stories that end on the disk.</summary>
public abstract class RealStore : IDisposable
{
    private protected RealStore() => Store = new Stores("test", Clock).Open(Path.Combine(Folder, "store"), StoreNature.Real, write: true).Require();

    private protected FakeTimeProvider Clock { get; } = KnownMachine.Clock();

    private protected string Folder { get; } = Directory.CreateTempSubdirectory("story").FullName;

    private protected IStoreFolder Store { get; }

    public void Dispose()
    {
        Store.Dispose();
        Directory.Delete(Folder, recursive: true);
        GC.SuppressFinalize(this);
    }
}
