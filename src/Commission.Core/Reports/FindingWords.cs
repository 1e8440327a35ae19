using System.Diagnostics;
using Commission.Core.Characteristics;

namespace Commission.Core.Reports;

/// <summary>The fixed words of verdicts and advice, as answers and files have them.</summary>
public static class FindingWords
{
    /// <summary>The word of a verdict.</summary>
    public static string Of(Verdict verdict) => verdict switch
    {
        Verdict.None => "none",
        Verdict.Within => "within",
        Verdict.Outside => "outside",
        Verdict.Undecided => "undecided",
        _ => throw new UnreachableException(),
    };

    /// <summary>The word of an advice.</summary>
    public static string Of(AdviceAction action) => action switch
    {
        AdviceAction.Leave => "leave",
        AdviceAction.Change => "change",
        AdviceAction.MeasureMore => "measure-more",
        AdviceAction.FindTheFault => "find-the-fault",
        _ => throw new UnreachableException(),
    };
}
