using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Machines;

namespace Commission.Core.Plans;

/// <summary>
/// Cells of a plan in one line of text, as a run keeps the plan that it was begun with: <c>near|+|X134 X139|commanded_mm=139|direction=+;...</c>.
/// Numbers have all their digits, so that the same cells come back.
/// </summary>
public static class PlanCellText
{
    private const char Between = ';', Part = '|';

    /// <summary>The text of cells along axes.</summary>
    public static string Write(IEnumerable<PlanCell> cells) => string.Join(Between, cells.Select(One));

    /// <summary>The cells of a text.</summary>
    /// <returns>The cells, or that the text is none.</returns>
    public static Outcome<ImmutableArray<PlanCell>> Read(string text)
    {
        var cells = ImmutableArray.CreateBuilder<PlanCell>();
        foreach (var part in text.Split(Between))
        {
            if (Read(part.Split(Part)) is not { } cell)
                return new Problem("the plan that the run was begun with cannot be read", "Begin the procedure anew; what was measured stays in the log");
            cells.Add(cell);
        }

        return cells.ToImmutable();
    }

    private static string One(PlanCell cell) => string.Join(Part, (string[])
    [
        cell.Place, cell.Approach switch { Approach.Increasing => "+", Approach.Decreasing => "-", _ => "" },
        string.Join(' ', cell.GoTo.Select(to => to.Axis.ToString() + Number(to.Mm))),
        string.Join(' ', cell.Given.Select(pair => pair.Key + "=" + Number(pair.Value))),
        string.Join(' ', cell.Words.Select(pair => pair.Key + "=" + pair.Value)),
    ]);

    private static PlanCell? Read(string[] parts)
    {
        if (parts is not [{ Length: > 0 } place, var side, var goTo, var given, var words] || side is not ("+" or "-" or ""))
            return null;
        var positions = goTo.Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(Place).ToList();
        var numbers = given.Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(pair => pair.Split('=')).ToList();
        var names = words.Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(pair => pair.Split('=')).ToList();
        if (positions.Contains(null) || names.Exists(pair => pair.Length != 2) || numbers.Exists(pair => pair.Length != 2 || Number(pair[1]) is null))
            return null;
        return new PlanCell
        {
            Place = place, Approach = side switch { "+" => Approach.Increasing, "-" => Approach.Decreasing, _ => null },
            GoTo = [.. positions.OfType<Position>()], Given = numbers.ToImmutableSortedDictionary(pair => pair[0], pair => Number(pair[1])!.Value), Words = names.ToImmutableSortedDictionary(pair => pair[0], pair => pair[1]),
        };
    }

    private static Position? Place(string text) => text.Length > 1 && MachineWords.Axis(text[..1]) is { } axis && Number(text[1..]) is { } mm ? new Position(axis, mm) : null;

    private static string Number(double value) => value.ToString("R", CultureInfo.InvariantCulture);

    private static double? Number(string text) => double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out var value) && double.IsFinite(value) ? value : null;
}
