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

    private protected Ledger Ledger => Ledger.From(Store.Entries());

    private protected Headless On(ScreenOptions options, int width = 80, int height = 24) => new(ScreenProgram.DeskOf(options, Clock), width, height);

    public void Dispose()
    {
        Store.Dispose();
        Directory.Delete(Folder, recursive: true);
        GC.SuppressFinalize(this);
    }
}
