using System.Collections.Immutable;
using System.Globalization;
using Commission.Core;
using Commission.Core.History;
using Commission.Core.Machines;
using Commission.Core.Machines.Dialects;
using Commission.Core.Quantities;
using Commission.Core.Upkeep;
using Commission.Workshop.Requests;
using Commission.Workshop.Screens.Sheets;
using Commission.Workshop.Sessions;

namespace Commission.Workshop.Screens.Pages;

/// <summary>Tells a change in the machine's life: what it makes stale is shown before it is entered.</summary>
public sealed class ChangePage(Desk desk, AxisName? about = null) : ListPage(desk)
{
    private AxisName? _axis = about;

    // Said once that each axis has its own number: a second Enter means all of them, in words.
    private bool _all;

    /// <inheritdoc/>
    public override string Called => "a change";

    /// <inheritdoc/>
    public override ImmutableArray<string> Help =>
    [
        "A change marks the results that rest on what was changed. Up and Down choose what, Left and Right the axis where it concerns one.",
        "Where the change is a number, steps per millimetre, the number that holds now is asked for; it stands in the log as told, not read back. Empty: I do not know.",
        "U on the log undoes it; E there takes back an older one.",
    ];

    /// <inheritdoc/>
    protected override int Count => ChangeWord.All.Length;

    /// <inheritdoc/>
    public override Sheet Show(int width, int height)
    {
        var word = ChangeWord.All[Chosen];
        var row = StaleTable.Find(word.Word);
        var touched = row is null ? "nothing" : row.Items.Length > 4 ? string.Create(CultureInfo.InvariantCulture, $"{row.Items.Length} results") : string.Join(", ", row.Items.Select(item => item.Replace('-', ' ')));
        return ListSheet.Of(
            new ListView
            {
                Path = $"{Desk.MachineName} / log / tell a change", Right = string.Create(CultureInfo.InvariantCulture, $"{Chosen + 1} of {Count}"), Live = Desk.Live, Head = $"   what was changed                                 axis: {_axis?.ToString() ?? "none or all"}",
                Lines = [.. ChangeWord.All.Select(change => change.Title)], Chosen = Chosen,
                Step = ($"{word.Title}{(_axis is { } axis ? " " + axis : "")}. Enter asks for {(Asked(word) is null ? "your words" : "the number")}.", $"{(row?.Effect == ChangeEffect.Suspect ? "Suspect" : "Stale")} by that: {touched}."),
                Keys = [new("Enter", "this one", "next"), new("Up, Down", "choose", "choose"), new("Left, Right", "axis", "choose"), new("Esc", "do not", "away"), new("F1", "help", "help")],
            },
            height);
    }

    /// <inheritdoc/>
    public override IEnumerable<Line> Notes(int room, int rows) => StaleTable.Find(ChangeWord.All[Chosen].Word) is { } row
        ? SideNotes.Part(row.Effect == ChangeEffect.Suspect ? "SUSPECT BY THAT" : "STALE BY THAT", row.Items.Select(WorkGraph.TitleOf), room).Concat(SideNotes.Part("TO DO", [row.Todo], room)) : base.Notes(room, rows);

    /// <inheritdoc/>
    public override void Choose(int by, bool sideways)
    {
        _all = false;
        if (!sideways)
            base.Choose(by, sideways);
        else
            _axis = (Math.Clamp((_axis is { } axis ? (int)axis + 1 : 0) + by, 0, 3) - 1) is var at and >= 0 ? (AxisName)at : null;
    }

    /// <inheritdoc/>
    public override void FollowNext()
    {
        var word = ChangeWord.All[Chosen];
        var axis = _axis;
        if (word.Word == ChangedNumber.StepsChanged && axis is null && !_all)
        {
            _all = true;
            Desk.Say("Of which axis? Left and Right choose it: its number is asked for. Enter: of all, in words.");
            return;
        }

        Desk.Uncover();
        if (Asked(word) is { } number)
            Desk.Cover(WithNumber(word, number));
        else
            InWords(word, axis);
    }

    private void InWords(ChangeWord word, AxisName? axis) =>
        Desk.Cover(new TextPage(Desk, new TextAsked(
            "a change", $"{word.Title}{(axis is { } named ? ", " + named : "")}: what happened, in your own words?", "They stand in the log, on trends and in reports. Empty is an answer too.", "into the log", "Type them. Enter puts the change into the log.",
            text => Told(word, axis, text))));

    private ChangedNumber? Asked(ChangeWord word) => Desk.Machine is { } machine ? ChangedNumber.Of(machine, word.Word, _axis) : null;

    // The number first; what is far from the one that is known is asked about once.
    private FormPage WithNumber(ChangeWord word, ChangedNumber number)
    {
        return new FormPage(
            Desk, "a change",
            [
                new(string.Create(CultureInfo.InvariantCulture, $"{Words.Capital(SettingName.InWords(number.Name, number.Axis.ToString()))}: {(number.Known is { } known ? $"{known:0.000###} is known" : "none is known")}. What holds now, in {number.Unit}?"), "It stands in the log as told by you, not read back. Empty: I do not know.", "", _ => "")
                {
                    WhyNot = typed => typed.Length > 0 && Value(number, typed) is Outcome<double>.Bad bad ? $"{Words.Capital(bad.Problems[0].What)}. {bad.Problems[0].Remedy}." : null,
                    Odd = (typed, _) => Value(number, typed) is Outcome<double>.Good { Value: var value } && number.Doubt(PlainText.Of(typed), value) is { } doubt ? new(Words.Capital(doubt), null) : null,
                },
                new("What happened, in your own words?", "They stand in the log. Empty is an answer too.", "", _ => ""),
            ],
            answers => answers[0].Length == 0 ? Told(word, number.Axis, answers[1]) : Value(number, answers[0]).Then(value => Told(word, number, value, answers[1])));
    }

    private static Outcome<double> Value(ChangedNumber number, string typed) =>
        TypedEntry.Number(typed, number.Unit).Then<double>(value => value > 0 ? value : new Problem($"{PlainText.Of(typed)} is not above zero", "Type what the controller shows"));

    private Outcome<string> Told(ChangeWord word, ChangedNumber number, double value, string text) =>
        new TellChange(Desk.Means.Journal).Number(Desk.MachineName, word.Word, number.Axis, value, text, Desk.Operator).Then<string>(_ =>
        {
            Desk.Refresh();
            return string.Create(CultureInfo.InvariantCulture, $"{Words.Capital(SettingName.InWords(number.Name, number.Axis.ToString()))}: {value:0.######} {number.Unit} is in the log, told by you.");
        });

    private Outcome<string> Told(ChangeWord word, AxisName? axis, string text)
    {
        // Before the change is written: what was counted belongs to the time before it.
        if (ProcedureSession.BeginsAnotherCount(word.Word))
            Desk.Link?.EndCounting();
        return new TellChange(Desk.Means.Journal).Run(Desk.MachineName, word.Word, axis, text.Length > 0 ? text : word.Title, Desk.Operator).Then<string>(_ =>
        {
            Desk.Refresh();
            if (StaleTable.Find(word.Word)?.Effect == ChangeEffect.Suspect)
                Desk.Link?.LoseTrust("a crash was told");
            return $"{word.Title}: in the log. The bench shows what to look at again.";
        });
    }
}
