using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Machines.Dialects;
using Commission.Core.Motion;
using Commission.Workshop.Screens.Keys;
using Commission.Workshop.Screens.Sheets;
using static Commission.Workshop.Screens.Sheets.Boxing;

namespace Commission.Workshop.Screens.Pages;

/// <summary>The box before a move, and the one line while it moves. Only the axis' letter confirms; Enter and Esc do not.</summary>
/// <param name="desk">The desk.</param>
/// <param name="box">The box as the gate has drawn it.</param>
/// <param name="path">Where one is.</param>
/// <param name="count">Count of the move.</param>
/// <param name="because">Why it moves.</param>
public sealed class MotionPage(Desk desk, Confirmation box, string path, string count, string because) : Page(desk)
{
    private const int MostLines = 6;

    private long _drawnMs = desk.Link!.NowMs + DeskLink.TickMs;
    private bool _button;

    /// <summary>Takes back the reading before the move, once the box is put away; null where none stands before it.</summary>
    public Action? Undo { get; init; }

    /// <inheritdoc/>
    public override string Called => "a move";

    /// <inheritdoc/>
    public override ImmutableArray<string> Help =>
    [
        $"The box shows the whole move. {box.Letter} makes it, typed at least half a second after the box was drawn; Enter and Esc do not.",
        "For keyboards without that letter: Tab reaches the button, then Space presses it.",
        "While anything moves every key is STOP. STOP is software: the emergency stop is the one wired into the machine.",
        .. box.Lines.Select(Desk.Units.Told),
    ];

    /// <inheritdoc/>
    public override KeyScene Scene => new()
    {
        // The letter that confirms belongs to the box, which knows when it was drawn; it is no deed beside it.
        Box = new OpenBox(box.Letter, _drawnMs, _button), Deeds = [.. Show(SheetFrame.LeastWidth, SheetFrame.LeastHeight).Keys.Where(key => key.Action != "confirm")], Places = "",
    };

    private bool Moves => Desk.Link!.Moving is not null;

    /// <summary>What an act that leads to a step's moves is called in the corner of its page.</summary>
    public static string Named(MotionAct act) => act switch
    {
        MotionAct.SetReference set => $"reference place of {set.Axis}",
        MotionAct.Unlock => "unlocking",
        _ => "homing",
    };

    // What sends no move must not be announced as one: a hand may have to be at the axis.
    private bool MovesNothing => box.Act is MotionAct.SetReference or MotionAct.Unlock;

    private string Announced => box.Act switch
    {
        MotionAct.SetReference set => $"{set.Axis} STANDS ON ITS REFERENCE PLACE",
        MotionAct.Unlock => "THE CONTROLLER WILL BE UNLOCKED",
        MotionAct.Home => "THE MACHINE WILL MOVE",
        MotionAct.Go go when go.Moves.Select(move => move.Axis).Distinct().Count() > 1 => "THE MACHINE WILL MOVE",
        _ => Part + " WILL MOVE",
    };

    // What is to be watched: along its own axis the whole gantry, along the other one the carriage on it. Where the description does not tell which, the axis alone.
    private string Part => (box.Letter, Desk.Machine?.GantryAxis) switch
    {
        ('Z', _) => "Z",
        (var letter, { } along) => along.ToString()[0] == letter ? "THE GANTRY" : "THE CARRIAGE",
        (var letter, null) => $"AXIS {letter}",
    };

    private string Verb => box.Act switch
    {
        MotionAct.Home => "home",
        MotionAct.Go => $"move {box.Letter}",
        MotionAct.SetReference => "say so",
        _ => "unlock",
    };

    /// <inheritdoc/>
    public override Sheet Show(int width, int height)
    {
        if (Moves)
            return Moving();
        var sheet = box.Act is MotionAct.Go { Moves: [var only] } && Desk.Link!.Now?.Gate is { InTravel: { } at, Facts: { } facts } ? Single(only, at, facts, Desk.Link.Now.Gate.Dialect.Stop) : Listed();
        if (Undo is not null)
            sheet = sheet with { Keys = sheet.Keys.Insert(2, new("U", "undo", "undo-reading")) };
        return _button ? sheet with { Message = $"The button is reached: Space {(MovesNothing ? "says so" : "makes the move")}, Enter and Esc do not." } : sheet;
    }

    /// <inheritdoc/>
    public override void FollowNext() => Decline();

    /// <inheritdoc/>
    public override void Away() => Decline();

    /// <inheritdoc/>
    public override void Choose(int by, bool sideways) => _button = !_button;

    /// <inheritdoc/>
    public override void Confirm() => Desk.Link!.Confirm(box.Letter);

    /// <inheritdoc/>
    public override void Decline()
    {
        Desk.Link!.Withdraw();
        Desk.Uncover();
        Desk.Say("Nothing moved.");
    }

    /// <inheritdoc/>
    public override void Deed(string action)
    {
        if (action is not ("decline" or "undo-reading"))
            return;
        Decline();
        if (action == "undo-reading")
            Undo?.Invoke();
    }

    /// <inheritdoc/>
    public override void TakeBack()
    {
        if (Undo is not null && !Moves)
            Desk.Say("The box waits. U puts it away and takes back the last reading.");
    }

    // Shown again after the help lay over it, or the window was too small: the gate draws it anew, and it must be read again before its letter counts.
    /// <inheritdoc/>
    public override void Again()
    {
        (_drawnMs, _button) = (Desk.Link!.NowMs + DeskLink.TickMs, false);
        if (Moves)
            return;
        Desk.Link.AskAnew();
        // Refused meanwhile: what was said of it stands on the sheet below.
        if (Desk is { HidesSheets: false, Link.Now: not { Gate.Box: not null } })
            Desk.Uncover();
    }

    private Sheet Single(PlannedMove move, MachinePosition at, MotionFacts facts, DialectStop stop) => MotionBoxSheet.Of(new MotionBoxView
    {
        Path = path, Right = count, Axis = box.Letter, Part = Part, Direction = move.Direction, DistanceMm = Math.Abs(move.DistanceMm), SpeedMmMin = move.SpeedMmPerMin,
        Path1D = (at[move.Axis], at[move.Axis] + move.DistanceMm), Allowed = (facts.MarginMm, facts.TravelMm[move.Axis] - facts.MarginMm),
        Hazard = Hazard, Elsewhere = Elsewhere, Because = because, Live = Desk.Live, Units = Desk.Units, Reached = _button, Stop = MotionRules.AboutStop(stop),
    });

    // Homing, a list, and what moves while the position is not trusted: the gate's own words, line by line.
    private Sheet Listed()
    {
        var lines = Fitting();
        return new Sheet
        {
            Path = path, Right = count, Live = Desk.Live,
            Body =
            [
                Edge, Boxed($"  {Announced}").With(Announced, Ink.Strong), Boxed(""),
                .. lines.Select(line => Boxed("     " + line)), Boxed(""),
                .. HazardBlock.Lines(Elsewhere is { } far && !MovesNothing ? [Hazard, far] : [Hazard]).Select(line => Boxed("  " + line.Text)),
                Boxed(""), BoxButtons.Row($"Press {box.Letter} to {Verb}.", Verb, MovesNothing ? "Do not" : "Do not move", 43, _button), Edge, Line.Blank,
                .. MovesNothing ? (ReadOnlySpan<Line>)[" Nothing moves by this."] : [" While it moves every key is STOP. The key you just pressed, still held down,", " does not count again."],
            ],
            Next = MovesNothing ? $"Look, then {box.Letter}. Enter or Esc: it stays as it is." : $"Hands out, then {box.Letter}. Enter or Esc: it stays where it is.", Because = because,
            Keys = [new(box.Letter.ToString(), box.Act is MotionAct.Go ? "move" : Verb, "confirm"), new("Enter, Esc", "do not", "decline"), new("F1", "help", "help"), new("F9 or Ctrl+C", "stop, always", "stop")],
        };
    }

    // A list that is too long for the box tells how many moves it has and how long they take; what is to be known of STOP is never cut.
    private List<string> Fitting()
    {
        List<string> Wrapped(IEnumerable<string> lines) => [.. lines.SelectMany(line => Wrap.To(Desk.Units.Told(line), 64))];
        ImmutableArray<string> about = Desk.Link?.Now is { Gate.Dialect.Stop: var stop } ? MotionRules.AboutStop(stop) : [];
        var (moves, rest) = (Wrapped(box.Lines.Where(line => !about.Contains(line))), Wrapped(box.Lines.Where(about.Contains)));
        if (moves.Count + rest.Count <= MostLines || box.Act is not MotionAct.Go go)
            return [.. moves, .. rest];
        return [.. moves.Take(MostLines - 1 - rest.Count), string.Create(CultureInfo.InvariantCulture, $"... {go.Moves.Length} moves, about {go.Seconds:0} s in all; F1 lists them."), .. rest];
    }

    private Sheet Moving()
    {
        var what = box.Act switch
        {
            MotionAct.Go go => Desk.Units.Told(string.Create(CultureInfo.InvariantCulture, $"{go.Moves[0].Axis} MOVES {go.Moves[0].Direction.ToUpperInvariant()}, {Math.Abs(go.Moves[0].DistanceMm):0.0##} mm, about {Math.Max(1, go.Seconds):0} s. EVERY KEY STOPS.")),
            _ => "THE MACHINE HOMES, Z first and up. EVERY KEY STOPS.",
        };
        return new Sheet
        {
            Path = path, Right = count, Live = Desk.Live, Body = [Line.Blank, Line.Blank, new Line(" " + what, [new(1, what.Length, Ink.Strong)]), .. Desk.Link?.Now?.Gate.Dialect.Stop.WorstCase is { } worst ? (ReadOnlySpan<Line>)[Line.Blank, $" {worst}."] : []],
            Next = "Watch it. Every key stops it.", Because = "It rests by itself where the box said.", Keys = [new("any key", "stop", "stop")],
        };
    }

    // STOP goes the same way as this picture came.
    private Danger? Elsewhere => Desk.Means.Elsewhere ? new("This keyboard is elsewhere and STOP may come late.", "Somebody must stand at the wired emergency stop.") : null;

    private Danger Hazard => box.Act switch
    {
        MotionAct.Home { WatchedTest: true } => new("Crushing: each axis seeks its switch, Z first, up.", "A stick at the switch, never the hand."),
        MotionAct.Home => new("Crushing: each axis goes to its switch, Z first, up.", "Hands and tools out of the machine. Anybody else near?"),
        MotionAct.SetReference set => new("A place told wrongly drives later moves past the end.", $"Is {set.Axis} at that stop now? Look. Hands out afterwards."),
        MotionAct.Unlock => new("After this the controller takes moves again.", "What locked it is found and gone? Look."),
        _ => new("Crushing between what moves and what stands.", "Caliper, tools and hands out. Is anybody else near?"),
    };
}
