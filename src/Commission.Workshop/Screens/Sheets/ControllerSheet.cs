using System.Collections.Immutable;

namespace Commission.Workshop.Screens.Sheets;

/// <summary>One setting of the controller's page.</summary>
/// <param name="Name">Name in words; empty where it is that of the row above.</param>
/// <param name="Axis">Axis; empty for none.</param>
/// <param name="Now">In the controller now.</param>
/// <param name="Known">As known; empty where never.</param>
public sealed record SettingRow(string Name, string Axis, string Now, string Known)
{
    /// <summary>The difference with its sign; empty where none.</summary>
    public string Difference { get; init; } = "";

    /// <summary>Who wrote it: <c>us, 18 Apr</c>, or <c>NOT BY US</c>; empty where nobody has.</summary>
    public string By { get; init; } = "";

    /// <summary>The unit, on the first row of a name.</summary>
    public string Unit { get; init; } = "";

    /// <summary>What it may be at most, where it is set to more than was found to hold; empty elsewhere.</summary>
    public string Most { get; init; } = "";

    /// <summary>Whether it differs and is the one that Enter decides.</summary>
    public bool Chosen { get; init; }

    /// <summary>Whether it differs.</summary>
    public bool Differs { get; init; }
}

/// <summary>What the controller's page shows.</summary>
public sealed record ControllerView
{
    /// <summary>Name of the machine.</summary>
    public required string Machine { get; init; }

    /// <summary>Date, and since when it is linked.</summary>
    public required string Right { get; init; }

    /// <summary>Day of what is known; empty where it is of now.</summary>
    public string KnownAt { get; init; } = "";

    /// <summary>The settings.</summary>
    public required ImmutableArray<SettingRow> Rows { get; init; }

    /// <summary>How many were compared, and when they were saved.</summary>
    public required string Count { get; init; }

    /// <summary>Words on the difference.</summary>
    public ImmutableArray<string> About { get; init; } = [];

    /// <summary>What to do next, and why.</summary>
    public required (string Next, string Because) Step { get; init; }

    /// <summary>The live strip.</summary>
    public required LiveStrip Live { get; init; }

    /// <summary>The keys.</summary>
    public required ImmutableArray<SheetKey> Keys { get; init; }
}

/// <summary>A parts list against the stock count: booked, found, difference. Only what differs has a mark.</summary>
public static class ControllerSheet
{
    private const int AxisColumn = 16, NowEnd = 31, KnownEnd = 49, DifferenceEnd = 62, UnitEnd = 65, ByColumn = 67, UnitColumn = 73;

    /// <summary>The sheet.</summary>
    public static Sheet Of(ControllerView view)
    {
        var head = $" setting              in it now     known{(view.KnownAt.Length > 0 ? ", " + view.KnownAt : ""),-12} difference   written by";
        return new Sheet
        {
            Path = $"{view.Machine} / controller", Right = view.Right, Live = view.Live, Next = view.Step.Next, Because = view.Step.Because, Keys = view.Keys, KeyGap = 2,
            Body =
            [
                new Line(head, [new(0, head.Length, Ink.Quiet)]), .. view.Rows.Select(Row), " " + view.Count, Line.Blank,
                .. view.About.SelectMany(text => Wrap.To(text, 78)).Select(text => (Line)(" " + text)),
            ],
        };
    }

    private static Line Row(SettingRow row)
    {
        var line = Line.Blank.Set(0, row.Chosen ? ">>" : row.Differs ? "> " : "").Set(1, row is { Name.Length: > 0, Differs: false } ? row.Name : "").Set(AxisColumn, row.Axis);
        if (row is { Name.Length: > 0, Differs: true })
            line = line.Set(3, row.Name.Length > AxisColumn - 4 ? row.Name[..(AxisColumn - 4)] : row.Name);
        // Who wrote it takes the place of the unit, which then stands behind the difference.
        var moved = row is { Unit.Length: > 0 } && (row.By.Length > 0 || row.Most.Length > 0);
        line = Right(Right(Right(line, NowEnd, row.Now), KnownEnd, row.Known), moved ? UnitEnd : DifferenceEnd, moved ? $"{row.Difference} {row.Unit}".TrimStart() : row.Difference);
        if (row is { Most.Length: > 0, Differs: false })
            line = line.Set(ByColumn, new Line("max " + row.Most, [new(0, row.Most.Length + 4, Ink.Ochre)]));
        else if (row.By.Length > 0)
            line = line.Set(ByColumn, new Line(row.By, row.Differs ? [new(0, row.By.Length, Ink.Ochre)] : []));
        else if (row.Unit.Length > 0)
            line = line.Set(UnitColumn, row.Unit);
        return line with { Text = line.Text.TrimEnd() };
    }

    private static Line Right(Line line, int end, string text) => text.Length == 0 ? line : line.Set(end - text.Length, text);
}
