using Commission.Core;
using Commission.Core.Instruments;
using Commission.Core.Quantities;

namespace Commission.Workshop.Requests;

/// <summary>The options of <c>instrument add</c>, made into a description; "not known" is legal for every number.</summary>
public static class InstrumentOptionsText
{
    /// <summary>The word for a number that nobody knows.</summary>
    public const string Unknown = "unknown";

    /// <summary>Characters that a name has at most.</summary>
    public const int MostName = 40;

    /// <summary>What was told.</summary>
    /// <param name="Like">Id of a catalogue row to begin from.</param>
    /// <param name="Kind">Word of the kind.</param>
    /// <param name="LimitMm">Limit of error.</param>
    /// <param name="ResolutionMm">Last digit.</param>
    /// <param name="RangeMm">Longest length.</param>
    /// <param name="Source">Where these come from.</param>
    public sealed record Told(string? Like, string? Kind, string? LimitMm, string? ResolutionMm, string? RangeMm, string? Source)
    {
        /// <summary>Whether it types its readings through a cable.</summary>
        public bool Cable { get; init; }
    }

    /// <summary>The instrument.</summary>
    /// <param name="name">The owner's name for it.</param>
    /// <param name="told">What was told; what is <c>unknown</c> is not taken from the catalogue either.</param>
    /// <param name="units">Unit of a length without one; millimetres where not told.</param>
    public static Outcome<Instrument> Read(string name, Told told, ShownUnits? units = null)
    {
        var problems = new List<Problem>();
        var clean = Words.Clean(name).Trim();
        if (clean.Length is 0 or > MostName)
            problems.Add(new Problem("an instrument needs a name of 1 to 40 characters", "Give it after instrument add"));
        var like = told.Like is null ? null : InstrumentCatalogue.Find(told.Like.Trim());
        if (told.Like is not null && like is null)
            problems.Add(new Problem($"the catalogue has no \"{Words.Clean(told.Like)}\"", "See instrument list --catalogue"));
        var kind = told.Kind is null ? like?.Kind ?? InstrumentKind.Other : InstrumentCatalogue.KindOf(told.Kind.Trim());
        if (kind is null)
            problems.Add(new Problem($"the kind \"{Words.Clean(told.Kind!)}\" is not known", "Give one of " + string.Join(", ", InstrumentCatalogue.Kinds.Keys)));
        double? Length(string? text, string option, double? offered) => text is null ? offered : Number(text, option, (units ?? ShownUnits.Millimetres).Length.Symbol, problems);
        var limit = Length(told.LimitMm, "limit-mm", like?.LimitMm);
        var resolution = Length(told.ResolutionMm, "resolution-mm", like?.ResolutionMm);
        var range = Length(told.RangeMm, "range-mm", like?.RangeMm);
        if (problems.Count > 0)
            return new Outcome<Instrument>.Bad([.. problems]);
        var source = told.Source ?? (told.LimitMm is null && like is not null ? like.Source : "told by the owner");
        return new Instrument(clean, kind!.Value, limit, resolution, range, Words.Clean(source)) { TypesByCable = told.Cable };
    }

    private static double? Number(string text, string option, string unit, List<Problem> problems)
    {
        if (text.Trim() is Unknown)
            return null;
        switch (TypedNumber.Read(text, unit))
        {
            case NumberReading.Clear { Number: var number } when number.Value > 0:
                return number.In("mm");
            case NumberReading.NotANumber bad:
                problems.Add(bad.Problem with { What = $"--{option}: {bad.Problem.What}" });
                return null;
            default:
                problems.Add(new Problem($"--{option} {Words.Clean(text)} is not one number above zero", "Give a positive number in mm with a decimal point, or unknown"));
                return null;
        }
    }
}
