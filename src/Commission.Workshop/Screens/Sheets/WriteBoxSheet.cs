using System.Globalization;

namespace Commission.Workshop.Screens.Sheets;

/// <summary>What the box before a write shows.</summary>
/// <param name="Path">Where one is.</param>
/// <param name="Axis">Letter of the axis.</param>
/// <param name="What">The setting in words: <c>steps per mm, Y</c>.</param>
/// <param name="Before">What the controller holds.</param>
/// <param name="After">What it would hold.</param>
/// <param name="Others">Number of settings that stay untouched.</param>
/// <param name="SavedAt">When all settings were saved, in words.</param>
/// <param name="Live">The live strip.</param>
public sealed record WriteBoxView(string Path, char Axis, string What, string Before, string After, int Others, string SavedAt, LiveStrip Live);

/// <summary>A setting slip with old and new value: one of the two boxes.</summary>
public static class WriteBoxSheet
{
    private const int Inner = 70;

    /// <summary>The sheet.</summary>
    public static Sheet Of(WriteBoxView view) => new()
    {
        Path = view.Path,
        Right = "controller: linked",
        Body =
        [
            Edge, Boxed("  WRITE ONE SETTING").With("WRITE ONE SETTING", Ink.Strong), Boxed(""),
            Boxed("                         in the controller      after writing"),
            Boxed($"    {view.What,-20}{view.Before,21}  ->{view.After,16}").With(view.After, Ink.Strong), Boxed(""),
            Boxed(string.Create(CultureInfo.InvariantCulture, $"    everything else                          untouched, {view.Others} settings")), Boxed(""),
            Boxed(string.Create(CultureInfo.InvariantCulture, $"    saved before     all {view.Others + 1} settings, {view.SavedAt} today, copy in the log")),
            Boxed($"    way back         controller, settings of {view.SavedAt}, write back"),
            Boxed("    after it         read back and compared; then home again, because"),
            Boxed("                     every position in mm has a new meaning"), Boxed(""),
            Boxed($"    Press {view.Axis} to write it to the axis {view.Axis}.".PadRight(43) + " [ Do not write ] (Enter)").With("[ Do not write ]", Ink.Focus),
            Edge, Line.Blank,
            " The gantry does not move. Controllers differ: some keep the value only until",
            " the power goes. Read-back after the next power-up is on the list for that.",
        ],
        Next = $"Compare the two numbers, then {view.Axis}. Enter or Esc: nothing is written.",
        Because = "Only an axis letter acts on the machine. A caliper cannot type one.",
        Live = view.Live,
        Keys = [new(view.Axis.ToString(), "write", "confirm"), new("Enter, Esc", "do not write", "decline"), new("D", "exact text for the wire", "wire"), new("F1", "help", "help")],
    };

    private static Line Edge => "   +" + new string('-', Inner) + "+";

    private static Line Boxed(string text) => "   |" + text.PadRight(Inner) + "|";
}
