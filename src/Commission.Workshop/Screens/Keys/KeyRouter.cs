using System.Collections.Immutable;

namespace Commission.Workshop.Screens.Keys;

/// <summary>Looks at keys in one fixed order: STOP, motion, bursts, help, text, box, cell, deeds, places. Pure: time comes with the keys.</summary>
public sealed record KeyRouter
{
    /// <summary>Characters closer than this belong to one burst, ms.</summary>
    public const long BurstGapMs = 50;

    /// <summary>A box's letter counts only when typed this long after the box was drawn, ms.</summary>
    public const long BoxRestMs = 500;

    private const long HeldGapMs = 150;
    private const long HeldFirstMs = 1000;
    private const long DoubledLetterMs = 80;
    private const long DoubledBurstMs = 1000;
    private const int BurstLength = 3;
    private const string Unseen = "What was typed while the window was too small was not used: nobody could see what it would do.";

    private string Run { get; init; } = "";

    private bool RunHasLetter { get; init; }

    private long LastAtMs { get; init; } = long.MinValue / 2;

    private KeyPress? Waiting { get; init; }

    private (char Letter, long AtMs)? LastLetter { get; init; }

    private (string Text, long AtMs)? LastBurst { get; init; }

    /// <summary>Whether a key waits for <see cref="Tick"/> to learn whether it begins a burst.</summary>
    public bool IsWaiting => Waiting is not null;

    /// <summary>The router after a key, with what the key asks for.</summary>
    public (KeyRouter Router, ImmutableArray<KeyAct> Acts) After(KeyScene scene, KeyPress key)
    {
        if (key.Name == NamedKey.Stop)
        {
            return (Rested(key), [new KeyAct.Stop("STOP")]);
        }

        if (scene.OutOfSight && scene.Moving is null)
        {
            return (Rested(key), [new KeyAct.Nothing(Unseen)]);
        }

        var joined = key.AtMs - LastAtMs < BurstGapMs && Run.Length > 0;
        return scene.Moving is { } moving ? WhileMoving(scene, moving, key, joined) : AtRest(scene, key, joined);
    }

    /// <summary>The router at a later time: a key that waited stands alone after all.</summary>
    public (KeyRouter Router, ImmutableArray<KeyAct> Acts) Tick(KeyScene scene, long nowMs)
    {
        if (Waiting is not { } key || nowMs - LastAtMs < BurstGapMs)
        {
            return (this, []);
        }

        var router = this with { Waiting = null, Run = "", RunHasLetter = false };
        if (scene.Moving is not null)
        {
            return (router, [new KeyAct.Stop(key.Called)]);
        }

        if (scene.OutOfSight)
        {
            return (router, [new KeyAct.Nothing(Unseen)]);
        }

        var (after, act) = router.Lone(scene, key);
        return (after, [act]);
    }

    private KeyRouter Rested(KeyPress key) => this with { Run = "", RunHasLetter = false, Waiting = null, LastAtMs = key.AtMs };

    // While something moves, a burst that is one well-formed number of the caliper in use is held back; everything else stops.
    private (KeyRouter, ImmutableArray<KeyAct>) WhileMoving(KeyScene scene, MoveUnderWay moving, KeyPress key, bool joined)
    {
        if (key.Letter == moving.Letter)
        {
            var held = key.AtMs - moving.ConfirmedAtMs < HeldFirstMs
                || (LastLetter is { } last && last.Letter == moving.Letter && key.AtMs - last.AtMs < HeldGapMs);
            var noted = this with { LastLetter = (moving.Letter, key.AtMs), LastAtMs = key.AtMs };
            return (noted, held ? [] : [new KeyAct.Stop(key.Called)]);
        }

        if (scene.CableCaliperDecimals is not { } decimals)
        {
            return (Rested(key), [new KeyAct.Stop(key.Called)]);
        }

        if (key.Character is { } c && IsData(c, fractions: false) && (joined || Run.Length == 0))
        {
            return (this with { Run = Run + c, Waiting = key, LastAtMs = key.AtMs }, []);
        }

        if (key.Name is NamedKey.Enter or NamedKey.Tab && joined && IsNumberOf(Run, decimals))
        {
            return (Rested(key), [new KeyAct.NotUsed(Run, $"{Run} was held back: still moving. It was not recorded.")]);
        }

        return (Rested(key), [new KeyAct.Stop(key.Called)]);
    }

    private (KeyRouter, ImmutableArray<KeyAct>) AtRest(KeyScene scene, KeyPress key, bool joined)
    {
        var acts = ImmutableArray.CreateBuilder<KeyAct>();
        var router = this;
        if (!joined && router.Waiting is { } lone)
        {
            (router, var act) = (router with { Waiting = null }).Lone(scene, lone);
            acts.Add(act);
        }

        if (!joined)
        {
            router = router with { Run = "", RunHasLetter = false };
        }

        (router, var own) = router.Next(scene, key, joined);
        acts.AddRange(own);
        return (router, acts.ToImmutable());
    }

    private (KeyRouter, ImmutableArray<KeyAct>) Next(KeyScene scene, KeyPress key, bool joined)
    {
        if (scene.TextField)
        {
            return (Rested(key), [InText(key)]);
        }

        if (key.Name is NamedKey.Enter or NamedKey.Tab && Run.Length >= BurstLength && joined)
        {
            return BurstEnds(scene, key);
        }

        if (key.Character is { } c)
        {
            return Printed(scene, key, c, joined);
        }

        return (Rested(key), [Named(scene, key)]);
    }

    private (KeyRouter, ImmutableArray<KeyAct>) Printed(KeyScene scene, KeyPress key, char c, bool joined)
    {
        // Behind a digit the slash is a part of what is typed, wherever fractions count: it takes nothing back.
        var isData = IsData(c, scene.Fractions) || (c == '/' && scene is { Cell: true, CellHasText: true });
        var router = this with
        {
            Run = Run + c,
            RunHasLetter = RunHasLetter || !isData,
            LastAtMs = key.AtMs,
            Waiting = null,
        };
        if (isData && scene.Box is null)
        {
            return (router, scene.Cell ? [new KeyAct.Type(c)]
                : joined && Run.Length > 1 ? []
                : [new KeyAct.Nothing($"{c} is a number, and nothing here takes one.")]);
        }

        // A letter inside a burst is the device's own and is dropped; a lone one waits where it may act on the machine
        // or where a caliper with a cable may have sent it.
        // In a box it must also stand clear of whatever came before, an Enter too.
        if (joined || (scene.Box is not null && key.AtMs - LastAtMs < BurstGapMs))
        {
            return (router, []);
        }

        if (scene.Box is not null || scene.CableCaliperDecimals is not null)
        {
            return (router with { Waiting = key }, []);
        }

        var (after, act) = router.Lone(scene, key);
        return (after, [act]);
    }

    private (KeyRouter, ImmutableArray<KeyAct>) BurstEnds(KeyScene scene, KeyPress key)
    {
        var text = new string([.. Run.Where(c => IsData(c, scene.Fractions))]).Trim();
        var router = Rested(key) with { LastBurst = (text, key.AtMs) };
        if (!scene.Cell)
        {
            return (router, [new KeyAct.NotUsed(text, $"A reading arrived, {text}, and nothing here takes one. It was not used.")]);
        }

        if (LastBurst is { } last && last.Text == text && key.AtMs - last.AtMs < DoubledBurstMs)
        {
            return (router, [new KeyAct.ClearCell(), new KeyAct.NotUsed(text, $"{text} arrived twice within a second and counts once.")]);
        }

        return (router, [new KeyAct.Accept()]);
    }

    // A key that stands alone: box, deeds, places.
    private (KeyRouter Router, KeyAct Act) Lone(KeyScene scene, KeyPress key)
    {
        if (key.Character == ' ' && scene.Box is { ButtonFocused: true } reached)
        {
            return (this, key.AtMs - reached.DrawnAtMs < BoxRestMs ? new KeyAct.BoxWaits("The box has only just been drawn. Read it first.") : new KeyAct.Confirm(reached.Letter));
        }

        if (key.Letter is not { } letter)
        {
            return (this, scene.Box is { } waiting ? new KeyAct.BoxWaits(Waits(waiting)) : NumberPad(scene, key));
        }

        if (LastLetter is { } last && last.Letter == letter && key.AtMs - last.AtMs < DoubledLetterMs)
        {
            return (this with { LastLetter = (letter, key.AtMs) }, new KeyAct.Nothing(""));
        }

        var router = this with { LastLetter = (letter, key.AtMs) };
        // What only looks may be asked for in a box; the four letters that act never stand for anything else.
        if (scene.Box is { } box && (letter is 'X' or 'Y' or 'Z' or 'H' || scene.Deeds.All(deed => deed.Letter != letter)))
        {
            return (router, letter != box.Letter ? new KeyAct.BoxWaits(Waits(box))
                : key.AtMs - box.DrawnAtMs < BoxRestMs ? new KeyAct.BoxWaits($"{letter} came before the box could be read. Read it, then press {letter}.")
                : new KeyAct.Confirm(letter));
        }

        return (router, Letter(scene, letter));
    }

    private static KeyAct Letter(KeyScene scene, char letter)
    {
        if (scene.Deeds.FirstOrDefault(deed => deed.Letter == letter) is { } deed)
        {
            return deed.NotNow is null ? deed.Action == "place" ? new KeyAct.Place(letter) : new KeyAct.Deed(deed.Action) : new KeyAct.Nothing($"{letter} {deed.Word}: {deed.NotNow}");
        }

        return scene.Places.Contains(letter, StringComparison.Ordinal) ? new KeyAct.Place(letter) : Idle(letter.ToString());
    }

    // The whole reading loop runs on a loose number pad: slash reads again, star is a note.
    private static KeyAct NumberPad(KeyScene scene, KeyPress key) => key.Character switch
    {
        '/' => Letter(scene, 'R'),
        '*' => Letter(scene, 'N'),
        ' ' => new KeyAct.Nothing("The space bar does nothing here. F2 shows what does."),
        _ => Idle(key.Called),
    };

    private static KeyAct InText(KeyPress key) => key switch
    {
        { Character: { } c } => new KeyAct.Type(c),
        { Name: NamedKey.Enter or NamedKey.Tab } => new KeyAct.Accept(),
        _ => Named(new KeyScene { TextField = true }, key),
    };

    private static KeyAct Named(KeyScene scene, KeyPress key) => key.Name switch
    {
        NamedKey.F1 => new KeyAct.Help(),
        NamedKey.F2 => new KeyAct.Card(),
        NamedKey.Enter or NamedKey.Escape when scene.Box is not null => new KeyAct.Decline(),
        NamedKey.Tab or NamedKey.BackTab when scene.Box is not null => new KeyAct.ReachButton(),
        NamedKey.Enter => scene.Cell && scene.CellHasText ? new KeyAct.Accept() : new KeyAct.FollowNext(),
        NamedKey.Tab => scene.Cell && scene.CellHasText ? new KeyAct.Accept() : new KeyAct.Choose(1, Sideways: false),
        NamedKey.BackTab or NamedKey.Up => new KeyAct.Choose(-1, Sideways: false),
        NamedKey.Down => new KeyAct.Choose(1, Sideways: false),
        NamedKey.Left => new KeyAct.Choose(-1, Sideways: true),
        NamedKey.Right => new KeyAct.Choose(1, Sideways: true),
        NamedKey.Backspace => new KeyAct.TakeBack(),
        NamedKey.Escape => new KeyAct.Away(),
        NamedKey.PageUp => new KeyAct.Scroll(-1),
        NamedKey.PageDown => new KeyAct.Scroll(1),
        NamedKey.Top => new KeyAct.Scroll(-1000),
        NamedKey.Bottom => new KeyAct.Scroll(1000),
        _ => Idle("That key"),
    };

    private static string Waits(OpenBox box) => $"The box waits for {box.Letter}. Enter or Esc: do not.";

    private static KeyAct.Nothing Idle(string called) => new($"{called} does nothing here. F2 shows what does.");

    private static bool IsData(char c, bool fractions) => c is (>= '0' and <= '9') or '.' or ',' or '-' or '+' || (fractions && (c is '/' or ' '));

    private static bool IsNumberOf(string text, int decimals)
    {
        var digits = text.TrimStart('+', '-');
        var point = digits.IndexOfAny(['.', ',']);
        return digits.Length >= BurstLength && point > 0 && digits.Length - point - 1 == decimals
            && digits.Where((_, i) => i != point).All(char.IsAsciiDigit);
    }
}
