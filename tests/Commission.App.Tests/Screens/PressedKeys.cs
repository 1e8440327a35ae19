using Commission.Workshop.Screens.Keys;
using Commission.Workshop.Screens.Pages;

namespace Commission.App.Tests.Screens;

/// <summary>Keys pressed one after the other, a second apart, on a desk without a terminal.</summary>
internal sealed class PressedKeys
{
    private KeyRouter _router = new();
    private long _now;

    public static Dictionary<string, NamedKey> Named { get; } = new(StringComparer.Ordinal)
    {
        ["Enter"] = NamedKey.Enter, ["Esc"] = NamedKey.Escape, ["Up"] = NamedKey.Up, ["Down"] = NamedKey.Down, ["Left"] = NamedKey.Left, ["Right"] = NamedKey.Right, ["PgDn"] = NamedKey.PageDown, ["Tab"] = NamedKey.Tab,
        ["Backspace"] = NamedKey.Backspace, ["F1"] = NamedKey.F1, ["F2"] = NamedKey.F2, ["F9"] = NamedKey.Stop,
    };

    /// <summary>Presses a key.</summary>
    /// <param name="desk">Where.</param>
    /// <param name="name">A letter, or the name of a key.</param>
    public void Press(Desk desk, string name)
    {
        _now += 1000;
        var key = name.Length == 1 ? KeyPress.Of(char.ToLowerInvariant(name[0]), _now) : KeyPress.Of(Named[name], _now);
        (_router, var acts) = _router.After(desk.Scene, key);
        foreach (var act in acts)
            desk.Do(act);
        (_router, acts) = _router.Tick(desk.Scene, _now + 500);
        foreach (var act in acts)
            desk.Do(act);
    }
}
