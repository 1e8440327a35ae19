using System.Collections.Immutable;
using System.Globalization;
using System.Text.RegularExpressions;
using Commission.Core;
using Commission.Core.History;
using Commission.Core.Machines;
using Commission.Core.Procedures;
using Commission.Core.Quantities;
using Commission.Workshop.Screens.Sheets;
using Commission.Workshop.Sessions;

namespace Commission.Workshop.Screens.Pages;

/// <summary>A run that was not ended: what is on disk, what was cut off, and two questions that only the person can answer.</summary>
public sealed partial class ResumePage : Page
{
    private readonly RunRecord _run;
    private readonly Outcome<IWorkSession> _session;
    private int _asking;
    private bool _bothAsked;
    private int _off;
    private int _untouched = (int)SinceThen.NotSure;

    /// <summary>The page of a run; it is taken up at once, so that what is asked next can be named.</summary>
    public ResumePage(Desk desk, RunRecord run)
        : base(desk)
    {
        _run = run;
        _session = desk.Means.TakeUp!(run);
        // Where it hangs on no power there is one question, and the other is as good as answered.
        (_asking, _bothAsked, _off) = AsksPower ? (0, false, (int)SinceThen.NotSure) : (1, true, (int)SinceThen.No);
    }

    /// <inheritdoc/>
    public override string Called => "unfinished";

    /// <inheritdoc/>
    public override ImmutableArray<string> Help =>
    [
        "A run was left without being ended. What was accepted is on disk. Say what happened to power and set-up since, then go on, read all again or put it aside.",
        "If blocks or instrument may have been touched, or the drives were without power, what follows gets a zero of its own: the readings before stay good for the scale.",
    ];

    private ProcedureRun? Run => _session is Outcome<IWorkSession>.Good { Value: var session } ? session.Run : null;

    // What earlier steps read is on disk too, whatever the step asks now.
    private int Earlier => (Run?.Readings.Count(reading => reading.Stands) ?? 0) - Counted;

    private int Counted => Run is { } run ? LeftRun.Counted(run) : 0;

    /// <inheritdoc/>
    public override Sheet Show(int width, int height) => ResumeSheet.Of(View()) is var sheet && Desk.Units == ShownUnits.Inches ? sheet with { Body = [.. sheet.Body.Select(line => line with { Text = Desk.Units.Told(line.Text) })] } : sheet;

    /// <inheritdoc/>
    public override void Choose(int by, bool sideways)
    {
        if (!Asks)
            return;
        if (!sideways)
            Ask(Math.Clamp(_asking + by, AsksPower ? 0 : 1, 1));
        else if (_asking == 0)
            _off = Math.Clamp(_off + by, 0, 2);
        else
            _untouched = Math.Clamp(_untouched + by, 0, 2);
    }

    private void Ask(int question) => (_asking, _bothAsked) = (question, _bothAsked || question == 1);

    /// <inheritdoc/>
    public override void FollowNext()
    {
        // No answer is given to a question that was not come to.
        if (Asks && !_bothAsked)
        {
            Ask(1);
            return;
        }

        if (Said(_session) is not { } session)
            return;
        var ownZero = !View().ZeroHolds && Counted > 0;
        if (ownZero && !session.Run.MayHaveOwnZero)
        {
            Desk.Say("These readings belong to one set-up. R reads all again; O puts it aside.");
            return;
        }

        var (overLink, move) = (WasOverLink, Begun);
        var note = LeftRun.Note(Asks && AsksPower ? (SinceThen)_off : null, Asks ? (SinceThen)_untouched : null);
        if (!Desk.Write(new EntryBody.Noted(null, note) { Machine = Desk.MachineName, Run = _run.Sequence }))
            return;
        if (ownZero && session.Happen(new RunEvent.SetUpDisturbed()) is Outcome<string?>.Bad bad)
        {
            Desk.Say(bad.Problems);
            return;
        }

        Desk.Refresh();
        Desk.GoOnWith(session, overLink);
        var home = _off == (int)SinceThen.No && move is null ? "" : $"Home first{(Desk.Link is { IsOpen: false, Known: not null } ? ": C opens the link again" : "")}. ";
        if (ownZero)
            Desk.Say(home + "From here on a zero of its own.");
        else if (move is not null)
            Desk.Say(home.TrimEnd());
    }

    /// <inheritdoc/>
    public override void Deed(string action)
    {
        switch (action)
        {
            case "resume-aside" when IsAside:
                Desk.ToBench();
                break;
            case "resume-aside" when Desk.Write(new EntryBody.RunEnded("put-aside", "put aside at the next start") { Machine = Desk.MachineName, Run = _run.Sequence }):
                Desk.ToBench();
                break;
            case "resume-anew" when Desk.Write(new EntryBody.RunEnded("aborted", "read all again") { Machine = Desk.MachineName, Run = _run.Sequence })
                && Desk.Means.Procedures.FirstOrDefault(procedure => procedure.Id == _run.Started.Body.Procedure) is { } procedure:
                Desk.Show(new OverviewPage(Desk, procedure, Axis));
                break;
            case "raw":
                Desk.Cover(new WordsPage(Desk, "readings of the run", [.. Desk.Ledger.ReadingsOf(_run.Sequence).Select(reading => LogWords.IsHidden(reading.Taken.Body, Desk) ? LogWords.Of(reading.Taken.Body, Desk) : FindingPage.Text(reading, Desk.Units))]));
                break;
            case "cut-line":
                Desk.Cover(new WordsPage(Desk, "the cut line", ["As it stands on disk, set aside and never used:", Inking.Clean(Desk.Means.Journal.CutOff ?? "")]));
                break;
            default:
                FollowNext();
                break;
        }
    }

    private bool IsAside => _run.Standing == RunStanding.PutAside;

    private AxisName? Axis => MachineWords.Axis(_run.Started.Body.Axis);

    private ResumeView View()
    {
        var last = Desk.Means.Journal.Entries(_run.LastSequence).FirstOrDefault()?.At ?? _run.Started.At;
        var began = _run.Started.Body;
        var sameDay = last.Date == Desk.Now.Date;
        string When(DateTimeOffset at) => at.ToString(sameDay ? "HH:mm" : "d MMM HH:mm", CultureInfo.InvariantCulture);
        var asked = Run?.Needs as Need.TakeReading;
        return new ResumeView
        {
            Machine = Desk.MachineName!, Right = $"{Desk.Today} . {Desk.Now.ToString("HH:mm", CultureInfo.InvariantCulture)}", Session = (When(_run.Started.At), When(last)),
            What = OverviewPage.Named(began.Procedure, Axis), Step = Run?.StepNumber ?? 1, Reading = asked is null ? null : (asked.Index + 1, asked.Of),
            OnDisk = OnDisk(), CutOff = Desk.Means.Journal.CutOff is { } cut ? Cut(cut, asked) : null, InController = InController(), Begun = Begun, Asks = Asks, AsksPower = AsksPower, SetUpAsked = LeftRun.SetUpQuestion(Run), Reads = Run?.Procedure.AllSteps.OfType<Step.Read>().Any() ?? true, DrivesOff = _off, Untouched = _untouched, Asking = _asking, BothAsked = _bothAsked || !Asks,
            PutAside = IsAside, Counted = Counted, Earlier = Earlier, OwnZero = Run?.MayHaveOwnZero ?? true, Live = Desk.Live,
        };
    }

    // Where it cannot be taken up the reason is told after the answers.
    private bool Asks => Run is not { } run || LeftRun.Asks(run);

    private bool AsksPower => Run is not { } run || LeftRun.HangsOnPower(run);

    // Confirmed as the last thing of the run, and no stop was answered since.
    private string? Begun => Desk.Means.Journal.Entries(_run.LastSequence).ToList() is [{ Body: var body }, ..] entries && body.Begun() is { } move && !entries.Any(entry => entry.Body is EntryBody.Stopped) ? move : null;

    private bool WasOverLink => LeftRun.OverLink(Desk.Means.Journal.Entries(_run.Sequence).Where(entry => entry.Body.Run == _run.Sequence));

    private string OnDisk()
    {
        var hazards = _run.Confirmations.FirstOrDefault(confirmed => confirmed.Body.Step == "hazards");
        var by = hazards is null ? "not read yet" : $"S{(hazards.Body.Operator is { } name ? " by " + name : "")} {hazards.At.ToString("HH:mm", CultureInfo.InvariantCulture)}";
        var readings = (Counted, Earlier) is (0, > 0) ? string.Create(CultureInfo.InvariantCulture, $"{Earlier} reading{(Earlier == 1 ? "" : "s")} of the steps before") : Counted == 0 ? "no reading" : Counted == 1 ? "reading 1" : string.Create(CultureInfo.InvariantCulture, $"readings 1 to {Counted}");
        return $"setting-up, hazards ({by}), {readings}";
    }

    // An intended write without its read-back was interrupted.
    private string InController() => Desk.Ledger.SettingsWritten.LastOrDefault(written => written.Body.Machine == Desk.MachineName) is { Body.Stage: EntryBody.SettingWritten.Intended } open
        ? $"{open.Body.Name} {open.Body.Axis} was being written: read it there before going on"
        : "nothing was being written";

    private static string Cut(string line, Need.TakeReading? asked)
    {
        var typed = Typed().Match(line);
        var what = typed.Success ? $"\"{Inking.Clean(typed.Groups[1].Value)}\" without its end" : "too short to tell what it said";
        var of = line.Contains("\"type\":\"reading\"", StringComparison.Ordinal) && asked is not null ? string.Create(CultureInfo.InvariantCulture, $" of reading {asked.Index + 1}") : "";
        return $"half a line{of}: {what}.\nIt is shown here and not used.";
    }

    [GeneratedRegex("\"typed\":\"([^\"]*)")]
    private static partial Regex Typed();
}
