using System.Text;
using Commission.Core;
using Commission.Workshop.Ports;

namespace Commission.Workshop.Requests;

/// <summary>Brings a journal in that was exported from a store: into an empty one, or as a second chain beside the store's own.</summary>
public sealed class ImportHistory(ITextFiles files, IStoreFolder store)
{
    /// <summary>Reads the file and takes its entries.</summary>
    /// <param name="file">Path of the file.</param>
    /// <returns>Number of new entries, or why nothing was brought in.</returns>
    public Outcome<long> Run(string file) => files.Read(file).Then(text => store.Import([.. Lines(text)], file));

    private static IEnumerable<ReadOnlyMemory<byte>> Lines(string text) =>
        text.Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(line => (ReadOnlyMemory<byte>)Encoding.UTF8.GetBytes(line));
}
