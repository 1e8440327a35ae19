using System.Collections.Immutable;

namespace Commission.Workshop.Screens.Sheets;

/// <summary>A row of the bench: one characteristic.</summary>
/// <param name="Name">Its name, for example <c>scale X</c>.</param>
/// <param name="Stuff">Its state.</param>
public sealed record BenchRow(string Name, BarStuff Stuff)
{
    /// <summary>The value as shown; a point where there is none.</summary>
    public string Value { get; init; } = ".";

    /// <summary>U as shown; a point where there is none.</summary>
    public string Uncertainty { get; init; } = ".";

    /// <summary>The limit as a number; empty where there is none.</summary>
    public string Limit { get; init; } = "";

    /// <summary>Unit of value, U and limit.</summary>
    public string Unit { get; init; } = "";

    /// <summary>The value between its limits; null where no strip is drawn.</summary>
    public Gauge? Gauge { get; init; }

    /// <summary>The verdict in the short form: <c>in</c>, <c>?</c>, <c>OUT</c>; empty where it is withheld or none.</summary>
    public string Verdict { get; init; } = "";

    /// <summary>Its state as tag and word; what was measured and gives no result says so.</summary>
    public string Tag { get; init; } = StateTag.Of(Stuff);

    /// <summary>Age of the reading; empty where never.</summary>
    public string Age { get; init; } = "";

    /// <summary>When it is looked at again; empty where not known.</summary>
    public string Again { get; init; } = "";

    /// <summary>What it waits for; empty where for nothing.</summary>
    public string WaitsFor { get; init; } = "";
}

/// <summary>What the bench shows.</summary>
public sealed record BenchView
{
    /// <summary>Name of the machine.</summary>
    public required string Machine { get; init; }

    /// <summary>The date, or a count of what needs a hand.</summary>
    public required string Right { get; init; }

    /// <summary>The characteristics in the order of the work.</summary>
    public required ImmutableArray<BenchRow> Rows { get; init; }

    /// <summary>Index of the row that was chosen with the arrows; null while none is.</summary>
    public int? Chosen { get; init; }

    /// <summary>Lines about the worst corner.</summary>
    public ImmutableArray<Line> Corner { get; init; } = [];

    /// <summary>What to do next, and why.</summary>
    public required (string Next, string Because) Step { get; init; }
}

/// <summary>The bench: an inspection sheet of the machine.</summary>
public static class BenchSheet
{
    private const int WideFrom = 120;

    /// <summary>The keys of the bench.</summary>
    public static ImmutableArray<SheetKey> Keys(bool wide) =>
    [
        new("Enter", "next", "next"), new("W", "work", "place"), new("F", "findings", "place"), new("T", "trend", "place"),
        new("C", "controller", "place"), new("K", "kit", "place"),
        .. wide ? (ReadOnlySpan<SheetKey>)[new("L", "log", "place"), new("M", "machine", "place"), new("F1", "help", "help")] : [],
        new("F2", "card", "card"), new("Q", "leave", "leave"),
    ];

    /// <summary>The sheet.</summary>
    public static Sheet Of(BenchView view, int width)
    {
        var wide = width >= WideFrom;
        var head = wide
            ? " characteristic    value  U 95 %  limit      where it lies                     state        age  again     waits for"
            : " characteristic   value  U 95 %  limit      where it lies       state        age";
        return new Sheet
        {
            Path = $"{view.Machine} / bench",
            Right = view.Right,
            Body = [new Line(head, [new(0, head.Length, Ink.Quiet)]), .. view.Rows.Select((row, i) => Row(row, wide, i == view.Chosen)), .. view.Corner],
            Next = view.Step.Next,
            Because = view.Step.Because,
            Keys = Keys(wide),
        };
    }

    // Four columns are left before the next one, or the edge: "today" is said as no days.
    private const int MostAge = 4;

    private static Line Row(BenchRow row, bool wide, bool chosen)
    {
        var shift = wide ? 1 : 0;
        var strip = wide ? LimitStrip.Wide : LimitStrip.Narrow;
        var line = Line.Blank.Set(1, row.Name)
            .Set(17 + shift, new Line(row.Value.PadLeft(6), []))
            .Set(24 + shift, new Line(row.Uncertainty.PadLeft(7), []))
            .Set(32 + shift, new Line($"{row.Limit,6} {row.Unit}", []))
            .Set(44 + shift, row.Gauge is { } gauge ? new Line(LimitStrip.Draw(gauge, strip), []) : Line.Blank)
            .Set(46 + shift + strip - 1, Verdict(row.Verdict))
            .Set(50 + shift + strip - 1, row.Tag);
        if (row.Age.Length > 0)
            line = line.Set(63 + shift + strip - 1, row.Age.Length <= MostAge ? row.Age : "0d");
        if (wide && row.Again.Length > 0)
            line = line.Set(97, row.Again);
        if (wide && row.WaitsFor.Length > 0)
            line = line.Set(107, row.WaitsFor);
        line = line with { Text = line.Text.TrimEnd() };
        return chosen ? line.With(0, line.Text.Length, Ink.Focus).Set(0, ">") : line;
    }

    private static Line Verdict(string word) => new(word, word switch
    {
        "OUT" => [new(0, 3, Ink.Ochre)],
        "?" => [new(0, 1, Ink.Blue)],
        _ => [],
    });
}
