using System.Collections.Immutable;
using System.Globalization;
using Commission.Core.Motion;
using Commission.Workshop.Screens.Keys;
using Commission.Workshop.Screens.Sheets;
using Commission.Workshop.Sessions;

namespace Commission.Workshop.Screens.Pages;

/// <summary>After STOP: nothing is sent until it was said what happened.</summary>
/// <param name="desk">The desk.</param>
/// <param name="why">Which key was pressed, or what stopped it.</param>
public sealed class StopPage(Desk desk, string why) : Page(desk)
{
    private readonly string _at = desk.Now.ToString("HH:mm:ss", CultureInfo.InvariantCulture);
    private string _since = "";
    private int? _losses;

    /// <inheritdoc/>
    public override string Called => "STOP";

    /// <inheritdoc/>
    public override ImmutableArray<string> Help =>
        ["STOP MOVE is software: pulling the cable or closing the lid does not stop the machine. The emergency stop is the one wired into it."];

    /// <inheritdoc/>
    public override KeyScene Scene => new() { Deeds = StopSheet.Keys, Places = "" };

    /// <inheritdoc/>
    public override Sheet Show(int width, int height)
    {
        var stop = Desk.Link?.LastStop ?? default;
        var lost = Desk.Link?.Lost is not null && stop.Sent is null;
        return StopSheet.Of(new StopView(
            Desk.MachineName ?? "Commission", _at, why,
            lost ? [("no stop went out: the link is lost", "")] : stop.Sent is null ? [] :
            [
                ("immediate stop sent", DeskLink.Clock(stop.Sent)), ("controller answered", DeskLink.Clock(stop.Answered)), ("no motion reported since", DeskLink.Clock(stop.Rested)),
            ],
            Kept, Desk.Link is { Now: { } now, Lost: null } ? LinkWords.Stopped(now, Desk.IsPractice, _at) : Desk.Live)
        { Since = _since, LinkLost = lost, After = LinkWords.Onward(Desk.Link?.Now?.Gate).After, WorstCase = Desk.Link?.Now?.Gate.Dialect.Stop.AtWorst ?? "" });
    }

    /// <summary>Takes in what the link tells of the stop, so that it is shown: a board may restart by it, or more may happen.</summary>
    /// <returns>Whether anything is new.</returns>
    public bool TakeIn(Gate gate)
    {
        if (gate.Losses == _losses)
            return false;
        _losses = gate.Losses;
        var told = (gate.Trouble ?? "").Split("; then ").Where(clause => clause.Length > 0 && !clause.EndsWith(why, StringComparison.Ordinal));
        _since = string.Join("; then ", told);
        return true;
    }

    /// <inheritdoc/>
    public override void FollowNext() => Desk.Say("Enter does nothing here. Look at the machine; then A, S or O.");

    /// <inheritdoc/>
    public override void Away() => FollowNext();

    /// <inheritdoc/>
    public override void Deed(string action)
    {
        var answer = action switch { "stop-false" => StopAnswer.FalseAlarm, "stop-crash" => StopAnswer.Crashed, _ => StopAnswer.NotKnown };
        // What was not shown yet is not what the answer is about.
        if (Desk.Link?.Now?.Gate is { State: TrustState.Stopped or TrustState.Shut, Trouble: not null } gate && TakeIn(gate))
        {
            Desk.Say("More has happened since this was drawn. Read it; then A, S or O.");
            return;
        }

        if (!answer.Entries(why).All(entry => Desk.Write(entry with { Machine = Desk.MachineName, Operator = Desk.Operator })))
        {
            // What cannot be kept is not taken as read: nothing moves, and the bench is where the program can be left.
            Desk.Unanswered();
            Desk.ToBench();
            Desk.Say("Not kept: the disk takes nothing. Make room; C and Enter ask again.");
            return;
        }

        Desk.Answered();
        Desk.Link?.Understood(answer.Key, _losses);
        Desk.Running?.PositionLost();
        if (Desk.GoOn() is { } work)
            Desk.Show(work);
        else
            Desk.ToBench();
        Desk.Say(LinkWords.Onward(Desk.Link?.Now?.Gate).Trust);
    }

    private string Kept => Desk.Running?.Session.Run is { } run && run.Readings.Count(reading => reading.Stands) is > 0 and var count
        ? string.Create(CultureInfo.InvariantCulture, $"reading{(count == 1 ? " 1" : $"s 1 to {count}")} of {Desk.Running.Called}, on disk. The next one was not taken.")
        : "every reading that was accepted is on disk.";
}
