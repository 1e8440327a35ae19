using Commission.Core.Characteristics;
using Commission.Core.Machines;
using Commission.Core.Procedures;
using Commission.Core.Quantities;
using Commission.Core.Upkeep;

namespace Commission.Core.Reports;

/// <summary>What a report is made of besides the ledger.</summary>
public sealed record ReportScope
{
    /// <summary>The machine reported on.</summary>
    public required Machine Machine { get; init; }

    /// <summary>The instant for which ages hold; entries after it are not in the ledger.</summary>
    public required DateTimeOffset AsOf { get; init; }

    /// <summary>Number of entries of the journal up to that instant.</summary>
    public required long Entries { get; init; }

    /// <summary>Hash of the last of them: whoever has the same journal gets the same.</summary>
    public required string Tip { get; init; }

    /// <summary>The fold of the same entries, for how results stand.</summary>
    public required UpkeepFold Upkeep { get; init; }

    /// <summary>Units to show.</summary>
    public ShownUnits Units { get; init; } = ShownUnits.Millimetres;

    /// <summary>Limits by class of work.</summary>
    public AcceptanceClasses Limits { get; init; } = AcceptanceClasses.Shipped;

    /// <summary>Version of the program that writes.</summary>
    public required string Program { get; init; }

    /// <summary>The procedure of an id whose text has a hash; null where that text is not at hand. What it gives depends on the program alone, so that a store gives the same bytes.</summary>
    public Func<string, string, Procedure?> Procedures { get; init; } = (_, _) => null;

    /// <summary>What becomes of a handle: the handle itself, or a name where names are asked for.</summary>
    public Func<string, string> Person { get; init; } = handle => handle;
}
