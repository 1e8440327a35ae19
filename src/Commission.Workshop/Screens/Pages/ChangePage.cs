using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.History;
using Commission.Core.Upkeep;
using Commission.Workshop.Screens.Sheets;

namespace Commission.Workshop.Screens.Pages;

/// <summary>Tells a change in the machine's life: what it makes stale is shown before it is entered.</summary>
public sealed class ChangePage(Desk desk) : ListPage(desk)
{
    /// <inheritdoc/>
    public override string Called => "a change";

    /// <inheritdoc/>
    public override ImmutableArray<string> Help => ["A change marks the results that rest on what was changed. It can be taken back on the command line: commission history change --withdraw."];

    /// <inheritdoc/>
    protected override int Count => ChangeWord.All.Length;

    /// <inheritdoc/>
    public override Sheet Show(int width, int height)
    {
        var word = ChangeWord.All[Chosen];
        var row = StaleTable.Find(word.Word);
        var touched = row is null ? "nothing" : row.Items.Length > 6 ? string.Create(CultureInfo.InvariantCulture, $"{row.Items.Length} results") : string.Join(", ", row.Items.Select(item => item.Replace('-', ' ')));
        return ListSheet.Of(
            new ListView
            {
                Path = $"{Desk.MachineName} / log / tell a change", Right = Desk.Today, Live = Desk.Live, Head = "   what was changed",
                Lines = [.. ChangeWord.All.Select(change => change.Title)], Chosen = Chosen,
                Step = ($"{word.Title}. Enter writes it into the log.", $"{(row?.Effect == ChangeEffect.Suspect ? "Suspect" : "Stale")} by that: {touched}."),
                Keys = [new("Enter", "write it", "next"), new("Up, Down", "choose", "choose"), new("Esc", "do not", "away"), new("F1", "help", "help")],
            },
            height);
    }

    /// <inheritdoc/>
    public override void FollowNext()
    {
        var word = ChangeWord.All[Chosen];
        if (Desk.Write(new EntryBody.ChangeTold(word.Word, null, word.Title) { Machine = Desk.MachineName, Operator = Desk.Means.Operator }))
        {
            Desk.Uncover();
            Desk.Say($"{word.Title}: in the log. The bench shows what is to be looked at again.");
        }
    }
}
