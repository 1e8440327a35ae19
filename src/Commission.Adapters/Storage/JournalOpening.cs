using Commission.Core.History;

namespace Commission.Adapters.Storage;

/// <summary>How a store is opened.</summary>
public sealed record JournalOpening
{
    /// <summary>What the caller works with: a store of the other kind is refused, a new one is born as this.</summary>
    public required StoreNature Nature { get; init; }

    /// <summary>Version of the program, for the first entry of a new store.</summary>
    public required string Program { get; init; }

    /// <summary>Gives the instants of the entries.</summary>
    public required TimeProvider Clock { get; init; }

    /// <summary>Gives the id of a new store: short, lower-case letters and digits.</summary>
    public required Func<string> NewStore { get; init; }

    /// <summary>Whether the store is written to; where not, no lock is taken and nothing is set aside.</summary>
    public bool Write { get; init; } = true;

    /// <summary>Whether a store that is not there is made.</summary>
    public bool Create { get; init; } = true;

    /// <summary>Size at which a segment is closed, bytes.</summary>
    public long SegmentBytes { get; init; } = 4 << 20;

    /// <summary>Size of a journal from which the copy before a session is made while work goes on, bytes.</summary>
    public long CopyMeanwhileBytes { get; init; } = 8 << 20;
}
