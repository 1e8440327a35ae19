using Commission.Core.Characteristics;

namespace Commission.App.CommandLine;

/// <summary>What the program says to a script when it ends.</summary>
internal static class ExitCode
{
    /// <summary>Done, and within tolerance where a verdict was asked for.</summary>
    public const int Done = 0;

    /// <summary>Outside tolerance, or something compared differs or falls short.</summary>
    public const int Outside = 1;

    /// <summary>The request or the input is bad; nothing was changed.</summary>
    public const int BadRequest = 2;

    /// <summary>Undecided.</summary>
    public const int Undecided = 3;

    /// <summary>Controller or store failed; nothing confirmed is lost.</summary>
    public const int Failed = 4;

    /// <summary>A defect in the program.</summary>
    public const int Defect = 5;

    /// <summary>Ended by a signal.</summary>
    public const int Interrupted = 130;

    /// <summary>The code for verdicts: outside before undecided before done.</summary>
    public static int Of(IEnumerable<Verdict> verdicts)
    {
        var all = verdicts.ToHashSet();
        return all.Contains(Verdict.Outside) ? Outside : all.Contains(Verdict.Undecided) ? Undecided : Done;
    }
}
