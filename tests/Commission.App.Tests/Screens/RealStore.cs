using Commission.Adapters.Storage;
using Commission.Tests;
using Microsoft.Extensions.Time.Testing;

namespace Commission.App.Tests.Screens;

/// <summary>A store of a real machine in a folder of its own, for stories that end on the disk.</summary>
public abstract class RealStore : OwnFolder
{
    private protected RealStore() => Store = new Stores("test", Clock).Open(Path.Combine(Folder, "store"), StoreNature.Real, write: true).Require();

    private protected FakeTimeProvider Clock { get; } = KnownMachine.Clock();

    private protected IStoreFolder Store { get; }

    private protected Ledger Ledger => Ledger.From(Store.Entries());

    private protected Headless On(ScreenOptions options, int width = 80, int height = 24) => new(ScreenProgram.DeskOf(options, Clock), width, height);

    protected override void Close() => Store.Dispose();
}
