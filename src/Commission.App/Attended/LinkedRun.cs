using System.Collections.Immutable;
using Commission.App.CommandLine;
using Commission.App.Plain;
using Commission.Core;
using Commission.Core.History;
using Commission.Core.Machines;
using Commission.Core.Motion;
using Commission.Core.Quantities;
using Commission.Workshop.Controllers;
using Commission.Workshop.Ports;
using Commission.Workshop.Requests;
using Commission.Workshop.Sessions;

namespace Commission.App.Attended;

/// <summary>A procedure with the link open: opened after its question, identified, and given to the session as what carries out its moves.</summary>
/// <param name="bench">What all verbs share.</param>
/// <param name="store">The journal.</param>
/// <param name="attended">Whether somebody stands at the machine though standard input is no terminal.</param>
internal sealed class LinkedRun(Workbench bench, IStoreFolder store, bool attended)
{
    private const string Nobody = "moves over the link need a person, and standard input is no terminal";

    /// <summary>Unit in which lengths are typed.</summary>
    public required string LengthUnit { get; init; }

    /// <summary>Saves what steps make for the machine; null shows it instead.</summary>
    public Func<string, string, Outcome<string>>? Save { get; init; }

    /// <summary>Who measures, where that was not told.</summary>
    public string? MeasuredBy { get; init; }

    /// <summary>What it is measured with, where that was not told.</summary>
    public string? MeasuredWith { get; init; }

    /// <summary>Carries the procedure out.</summary>
    /// <returns>The exit code.</returns>
    public async Task<int> RunAsync(LinkRequest link, SessionRequest request, CommandLine.Answer answer, CancellationToken cancellation)
    {
        // Whoever answers hazards, blocks and zero first has answered them for nothing.
        if (ProcedureSession.Ahead(request, linked: true).Match(run => LinkedMoves.WhyNone(run, Facts(request.Machine)), _ => null) is { } hopeless)
            return answer.Problem(hopeless.What, hopeless.Remedy);
        var typed = bench.Here.Typed;
        var asking = new Asking(typed, bench.Here.Out);
        var opened = await OpenedAsync(link, request.Machine, asking, answer, cancellation).ConfigureAwait(false);
        if (opened is not Outcome<ControllerLink>.Good { Value: var board })
            return answer.Problems(((Outcome<ControllerLink>.Bad)opened).Problems);
        // Looked at until the link is closed: no run after this one asks this board.
        using var watched = typed.Watched(() => StopOnTyping(board), cancellation);
        await using var held = bench.Here.Link.Hold(board, attended: true);
        if (await KnownAsync(board, request.Machine, asking, cancellation).ConfigureAwait(false) is { } refused)
            return answer.Problems(refused);
        var motion = new LinkMotion(board, () => With(board, Facts(request.Machine)), bench.Here.Clock);
        return await ProcedureSession.Open(store, request with { Motion = motion }).Match(
            session => new PlainFront(typed, bench.Here.Out, bench.Here.Error)
            {
                LengthUnit = LengthUnit,
                Save = Save,
                MeasuredBy = MeasuredBy,
                MeasuredWith = MeasuredWith,
                CountTrips = counted => new TripCounter(() => board.Now, bench.Here.Clock, counted),
                WhyNoMotion = bench.Here.InputIsTerminal || attended ? null : Nobody,
                ThrowAwayTyped = typed.DropWhatWasTyped,
                Shows = bench.Here.Practice?.Visit(),
            }.RunAsync(session, cancellation),
            problems => Task.FromResult(answer.Problems(problems))).ConfigureAwait(false);
    }

    // A name that was typed wrong, or a cable that is out, loses nothing of what was answered: a person is asked for the port again.
    private async Task<Outcome<ControllerLink>> OpenedAsync(LinkRequest link, Machine machine, Asking asking, CommandLine.Answer answer, CancellationToken cancellation)
    {
        while (true)
        {
            var opened = await new LinkOpening(bench, answer).OpenAsync(link, Facts(machine), asking, agreed: false, cancellation).ConfigureAwait(false);
            if (opened is not Outcome<ControllerLink>.Bad { Problems: var problems } || !problems.Any(problem => problem.IsFailure) || !(bench.Here.IsAnswered || bench.Here.InputIsTerminal))
                return opened;
            answer.Problems(problems);
            var (by, port) = new PlainQuestion(() => bench.Here.Typed, bench.Here.Out, bench.Here.Error).Ask(
                "text", "port", $"Over which port? Empty or R tries {Words.Clean(link.Address.Port)} again, a name opens that one, Q ends here.",
                ["Look at the cable and the power of the controller. A port is named as controller ports lists it, or by its path. What was kept of an earlier run stays."],
                typed => typed.Length == 0 || PlainWords.Is(typed, "r") ? null : bench.Here.NoPort(typed));
            if (by is not AnsweredBy.Answer)
                return opened;
            if (port.Length > 1)
                link = link with { Address = link.Address with { Port = port } };
        }
    }

    // While anything moves, whatever is typed is STOP.
    private static bool StopOnTyping(ControllerLink board)
    {
        if (board.Now.Gate.State != TrustState.Moving)
            return false;
        board.Stop("a line was typed, or the input ended, while the machine moved");
        return true;
    }

    private MotionFacts Facts(Machine machine) => GateFacts.Of(machine, store.Present(machine.Name).Ledger);

    private ImmutableArray<SavedSetting> settings = [];

    private MotionFacts With(ControllerLink board, MotionFacts facts) => facts.With(board.Dialect, settings);

    /// <summary>Compares the controller with what was saved of the machine, and tells the gate.</summary>
    private async Task<ImmutableArray<Problem>?> KnownAsync(ControllerLink board, Machine machine, Asking asking, CancellationToken cancellation)
    {
        if (!await board.HeardAsync(bench.Here.Clock, cancellation).ConfigureAwait(false))
            return [new Problem("the controller does not tell its state", "Check the cable and the dialect") { IsFailure = true }];
        var refused = await Identification.AskAsync(new IdentifyController(board, store, machine.Name), machine.Name, asking, cancellation).ConfigureAwait(false);
        if (refused is not null)
            return refused;
        // Kept at every session: what it is compared with next time.
        var saved = await new ControllerSettings(board, store, machine.Name).SaveAsync(cancellation).ConfigureAwait(false);
        if (saved is not Outcome<SettingsSnapshot>.Good { Value: var snapshot })
            return [.. ((Outcome<SettingsSnapshot>.Bad)saved).Problems.Select(problem => problem with { IsFailure = true })];
        settings = snapshot.Settings;
        board.Tell(With(board, Facts(machine)));
        board.TellIdentity(true);
        if (board.Now.Gate.Facts.MissingChecks is { IsEmpty: false } missing)
            asking.Say("Nothing moves over the link before these checks are passed: " + Words.Clean(string.Join(", ", missing)) + ". See procedure run readiness.");
        return null;
    }
}
