using Commission.Core;
using Commission.Core.History;

namespace Commission.Workshop.Ports;

/// <summary>Stores on this computer: folders with a journal inside.</summary>
public interface IStores
{
    /// <summary>Whether there is a store in a folder.</summary>
    bool Exists(string folder);

    /// <summary>Opens the store of a folder; one opened for writing is made where there is none.</summary>
    /// <param name="folder">The folder.</param>
    /// <param name="nature">Real or practice; a store of the other kind is refused.</param>
    /// <param name="write">Whether entries will be appended: one writer at a time.</param>
    /// <returns>The journal, or why it could not be opened.</returns>
    Outcome<IStoreFolder> Open(string folder, StoreNature nature, bool write);
}
