using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.History;
using Commission.Core.Machines;
using Commission.Core.Quantities;

namespace Commission.Workshop.Screens.Pages;

/// <summary>The machine as it is described.</summary>
public sealed class MachinePage(Desk desk) : Page(desk)
{
    /// <inheritdoc/>
    public override string Called => "machine";

    /// <inheritdoc/>
    public override ImmutableArray<string> Help => ["The machine as you described it. A corrects it, one fact at a time; what is unknown is asked on the day a result depends on it. Enter lists what can be done with the machine and its store."];

    /// <inheritdoc/>
    public override Sheet Show(int width, int height)
    {
        var machine = Desk.AsShown!;
        // The unit that it is kept in is a fact of its own, whatever it is shown in.
        string Of(string fact, AxisName axis) => FactUnits.Shown(MachineFacts.All[fact], fact == FactsPage.UnitsFact ? Desk.Machine! : machine, axis) + (Ratio(fact, axis) == "steps/in" && !AllIn(fact) ? "/in" : "");
        string Travel(int axis) => FactUnits.Shown(machine.TravelMm[axis], machine);
        string Ratio(string fact, AxisName axis) => FactUnits.Of(MachineFacts.All[fact], machine, axis)?.Symbol ?? "";
        bool AllIn(string fact) => Enum.GetValues<AxisName>().All(axis => Ratio(fact, axis) == "steps/in");
        string Named(string fact) => AllIn(fact) ? "steps per inch" : IsLength(fact) ? Spaced(fact)[..^2] + Desk.Units.Length.Symbol : Spaced(fact);
        return new Sheet
        {
            Path = $"{machine.Name} / machine", Right = Desk.Today, Live = Desk.Live,
            Body =
            [
                new Line("                      X            Y            Z", [new(0, 52, Ink.Quiet)]),
                (Line)$" travel, {Desk.Units.Length.Symbol}           {Travel(0),-13}{Travel(1),-13}{Travel(2)}",
                .. MachineFacts.All.Values.Where(fact => fact.OfAxis).Select(fact => (Line)$" {Named(fact.Name),-21}{Of(fact.Name, AxisName.X),-13}{Of(fact.Name, AxisName.Y),-13}{Of(fact.Name, AxisName.Z)}".TrimEnd()),
                Line.Blank,
                .. MachineFacts.All.Values.Where(fact => !fact.OfAxis).Select(fact => (Line)$" {Named(fact.Name),-21}{Of(fact.Name, AxisName.X)}".TrimEnd()),
            ],
            Next = "Enter lists what can be done with machine and store.", Because = "Reports, copies, another machine, looks, bells; nothing happens yet.",
            Keys =
            [
                new("Enter", "deeds", "next"), new("A", "correct it", "correct"), Undo.Key(Desk), new("O", "looks", "look"), new("Esc", "bench", "away"),
                new("PgUp, PgDn", "scroll", "scroll"), new("F1", "help", "help"), new("F2", "card", "card"),
            ],
        };
    }

    // What happened to it, the newest first.
    /// <inheritdoc/>
    public override IEnumerable<Line> Notes(int room, int rows) => SideNotes.Part(
        "CHANGES OF THIS MACHINE",
        Desk.Ledger.Changes.Where(change => change.Counts && change.Told.Body.Machine == Desk.MachineName).Select(change => (change.Told.At, (EntryBody)change.Told.Body))
            .Concat(Desk.Ledger.SettingsWritten.Where(written => !written.Body.IsIntended() && written.Body.Machine == Desk.MachineName).Select(written => (written.At, (EntryBody)written.Body)))
            .OrderByDescending(one => one.At).Select(one => $"{one.At.ToString("d MMM yyyy", CultureInfo.InvariantCulture)}  {LogWords.Of(one.Item2, Desk)}"),
        room).Concat(SideNotes.Part("THIS SHEET", Help, room));

    /// <inheritdoc/>
    public override void FollowNext() => Desk.Cover(new MachineDeedsPage(Desk));

    private bool IsLength(string fact) => Desk.Units != ShownUnits.Millimetres && fact.EndsWith("Mm", StringComparison.Ordinal) && !fact.EndsWith("PerMm", StringComparison.Ordinal);

    /// <summary>A name of the machine's file, read as words: <c>travelPerTurnMm</c> becomes <c>travel per turn, mm</c>.</summary>
    public static string Spaced(string name)
    {
        var words = string.Concat(name.Select(c => char.IsAsciiLetterUpper(c) ? " " + char.ToLowerInvariant(c) : c.ToString()));
        return words.EndsWith(" mm", StringComparison.Ordinal) && !words.EndsWith("per mm", StringComparison.Ordinal) ? words[..^3] + ", mm" : words;
    }

    /// <inheritdoc/>
    public override void Deed(string action)
    {
        if (action == "look")
            Desk.NextLook();
        else if (action == "correct")
            Desk.Cover(new FactsPage(Desk));
        else
            FollowNext();
    }
}
