using System.CommandLine;
using System.Text;
using Commission.App.Attended;
using Commission.App.Plain;
using Commission.App.Screens;
using Commission.Core;
using Commission.Core.Characteristics;
using Commission.Core.History;
using Commission.Core.Instruments;
using Commission.Core.Machines;
using Commission.Core.Procedures;
using Commission.Core.Quantities;
using Commission.Workshop.Ports;
using Commission.Workshop.Requests;
using Commission.Workshop.Sessions;

namespace Commission.App.CommandLine;

/// <summary><c>procedure run ID</c>, on the screens or question by question: begun, or taken up again where it stopped.</summary>
internal sealed class RunVerb(Workbench bench, ProcedureLibrary library, ScreenVerbs screens)
{
    private readonly LinkOptions links = new();

    /// <summary>The command.</summary>
    public Command Declare()
    {
        var id = Common.Offering(new Argument<string>("ID") { Description = "Id, as procedure list shows it" }, () => OrderOfWork.Ids);
        var axis = Common.Axis("X, Y or Z, for a procedure of one axis");
        var instrument = new Option<string?>("--instrument") { Description = "Name of an instrument of yours or id of the catalogue", HelpName = "NAME" };
        var person = new Option<string?>("--operator") { Description = "Handle of the person who measures", HelpName = "HANDLE" };
        var tolerance = new Option<string?>("--tolerance") { Description = "The limit with its unit; omitted: that of the machine's class of work" };
        var anew = new Option<bool>("--anew") { Description = "Begin a new run even where an unfinished one could be taken up" };
        var data = new Option<string?>("--data") { Description = "Question by question: a folder for the lines and tables that steps make, instead of showing them", HelpName = "DIR" };
        var attended = new Option<bool>("--attended") { Description = "Somebody stands at the machine, though standard input is no terminal: moves over the link may be asked for" };
        var command = new Command("run", "Carry out a procedure: on the screens, or with --plain or without a terminal question by question") { id, axis, instrument, person, tolerance, anew, data, attended };
        links.On(command);
        command.SetAction(async (parsed, cancellation) =>
        {
            var answer = bench.Answer(parsed);
            var told = new Told(parsed.GetValue(axis), parsed.GetValue(instrument), parsed.GetValue(person), parsed.GetValue(tolerance), !parsed.GetValue(anew), parsed.GetValue(data));
            return await bench.Store(parsed).Match(
                store => RunAsync(store, parsed, parsed.GetValue(id)!, told, parsed.GetValue(attended), cancellation),
                problems => Task.FromResult(answer.Problems(problems))).ConfigureAwait(false);
        });
        return command;
    }

    private async Task<int> RunAsync(IStoreFolder store, ParseResult parsed, string id, Told told, bool attended, CancellationToken cancellation)
    {
        using (store)
        {
            var found = library.Find(id);
            if (told.Axis is null && found is Outcome<ProcedureLibrary.Entry>.Good { Value.Procedure.ForOneAxis: true })
            {
                var (by, axis) = AskAxis();
                if (by is AnsweredBy.Aside or AnsweredBy.Back)
                    return bench.Answer(parsed).Done("Put aside: nothing was done.");
                told = told with { Axis = by is AnsweredBy.Answer ? axis : null };
            }

            var asked = found.Then(entry => Request(store, parsed, entry, told));
            if (!parsed.GetValue(Common.Plain) && told.Data is null && screens.Refusal is null)
                return asked.Then(request => OnScreens(store, parsed, request, told)).Match(code => code, problems => bench.Answer(parsed).Problems(problems));
            if (links.Named(parsed))
                return await LinkedAsync(store, parsed, asked, told, attended, cancellation).ConfigureAwait(false);
            var opened = asked.Then(request => ProcedureSession.Open(store, request));
            if (opened is not Outcome<ProcedureSession>.Good session)
                return bench.Answer(parsed).Problems(((Outcome<ProcedureSession>.Bad)opened).Problems);
            var front = new PlainFront(bench.Here.In, bench.Here.Out, bench.Here.Error)
            {
                MeasuredBy = asked.Match(request => MeasuredBy(told, request), _ => null),
                MeasuredWith = asked.Match(request => MeasuredWith(told, request), _ => null),
                LengthUnit = MachineWords.Of(MachineWords.Units, session.Value.Run.Machine.Units),
                Save = SaveTo(told.Data),
                Shows = bench.Here.Practice?.Visit(),
            };
            using var verifying = new VerifyWhileIdle(store);
            var code = await front.RunAsync(session.Value, cancellation).ConfigureAwait(false);
            bench.Tell(parsed, verifying.Faults);
            return code;
        }
    }

    private Outcome<int> OnScreens(IStoreFolder store, ParseResult parsed, SessionRequest request, Told told)
    {
        var start = new ScreenStart(request.Procedure, request.Axis) { Instrument = told.Instrument is null ? null : request.Instrument?.Name, Operator = told.Operator, Tolerance = request.Tolerance, Anew = !told.Resume };
        return links.Named(parsed)
            ? links.Read(parsed).Then(link => screens.Show(parsed, store, 0, start with { Controller = link.Address }))
            : screens.Show(parsed, store, 0, start);
    }

    // By question and answer nothing that can be asked for has to be known as an option.
    private (AnsweredBy By, string Axis) AskAxis() => new PlainQuestion(() => bench.Here.In, bench.Here.Out, bench.Here.Error).Ask(
        "choose", "axis", "For which axis? One of: X, Y, Z.", ["The procedure is carried out on one axis; the others have runs of their own."],
        typed => MachineWords.TypedAxis(typed) is null ? new Problem($"\"{Words.Clean(typed)}\" is no axis", "Answer X, Y or Z") : null);

    private Task<int> LinkedAsync(IStoreFolder store, ParseResult parsed, Outcome<SessionRequest> asked, Told told, bool attended, CancellationToken cancellation)
    {
        var answer = bench.Answer(parsed);
        return asked.Then(request => links.Read(parsed).Then<(SessionRequest Run, LinkRequest Link)>(link => (request, link))).Match(
            linked => new LinkedRun(bench, store, attended)
            {
                LengthUnit = parsed.GetValue(Common.Units) ?? MachineWords.Of(MachineWords.Units, linked.Run.Machine.Units),
                Save = SaveTo(told.Data),
                MeasuredBy = MeasuredBy(told, linked.Run),
                MeasuredWith = MeasuredWith(told, linked.Run),
            }.RunAsync(linked.Link, linked.Run, answer, cancellation),
            problems => Task.FromResult(answer.Problems(problems)));
    }

    private Func<string, string, Outcome<string>>? SaveTo(string? folder) =>
        folder is null ? null : (name, text) => bench.Files.Write(Path.Combine(folder, name), text);

    private Outcome<SessionRequest> Request(IStoreFolder store, ParseResult parsed, ProcedureLibrary.Entry entry, Told told)
    {
        return ChooseMachine.Present(store, parsed.GetValue(Common.Machine)).Then(chosen =>
        {
            var (machine, ledger) = (chosen.Machine, chosen.Present.Ledger);
            string? Who(Instrument? instrument) => Person(told, ledger, instrument?.Name);
            return Axis(told.Axis)
                .Then(axis => (told.Instrument is null ? OfKit(ledger, machine, entry.Procedure, axis.Value, told) : Named(ledger, told.Instrument))
                    .Then(instrument => Limit(told.Tolerance)
                        .Then<SessionRequest>(limit => new SessionRequest
                        {
                            Procedure = entry.Procedure,
                            ProcedureHash = Sha256.Hex(Encoding.UTF8.GetBytes(entry.Text.Text)),
                            Machine = machine,
                            Shown = parsed.GetValue(Common.Units) is { } unit ? MachineWords.Units[unit] : null,
                            Axis = axis.Value,
                            Instrument = instrument.Value,
                            Hand = ledger.Hand(Who(instrument.Value), instrument.Value?.Name)?.Body.Study,
                            Instruments = [.. ledger.Kit],
                            Owned = [.. ledger.Kit.Select(instrument => instrument.Kind)],
                            Operator = Who(instrument.Value),
                            Tolerance = limit.Value,
                            Resume = told.Resume,
                            Seed = (long)((bench.Here.Practice?.Seed ?? 0) % long.MaxValue),
                        })));
        });
    }

    // Nothing was named: the kit has it, as on the screens; a run that goes on keeps its own.
    private static Outcome<Maybe<Instrument?>> OfKit(Ledger ledger, Machine machine, Core.Procedures.Procedure procedure, AxisName? axis, Told told)
    {
        var left = told.Resume ? ledger.Resumable(machine.Name, procedure.Id, axis?.ToString())?.Started.Body : null;
        return new Maybe<Instrument?>(KitChoice.For(procedure, [.. ledger.Kit], left?.Instrument, left is null ? machine : null));
    }

    internal static Outcome<Maybe<AxisName?>> Axis(string? typed) => typed is null || MachineWords.TypedAxis(typed) is not null
        ? new Maybe<AxisName?>(MachineWords.TypedAxis(typed))
        : AxisOption.None(typed);

    internal static Outcome<Maybe<Instrument?>> Named(Ledger ledger, string? name)
    {
        if (name is null)
            return new Maybe<Instrument?>(null);
        var found = ledger.Instrument(name.Trim());
        return found is null ? new Problem($"no instrument is named \"{Words.Clean(name)}\"", "See instrument list and instrument list --catalogue") : new Maybe<Instrument?>(found);
    }

    private static Outcome<Maybe<Tolerance?>> Limit(string? typed) =>
        typed is null ? new Maybe<Tolerance?>(null) : ToleranceText.Parse(typed).Then<Maybe<Tolerance?>>(limit => new Maybe<Tolerance?>(limit));

    // Who was named last is taken for the one who measures now, as on the screens; not where only the owner's hand studied the instrument: then nobody is named.
    private static string? Person(Told told, Ledger ledger, string? instrument) => told.Operator is { } named ? Words.Clean(named)
        : ledger.LastOperator is { } last && instrument is not null && ledger.Study(last, instrument) is null && ledger.Study(HandStudy.Unnamed, instrument) is not null ? null : ledger.LastOperator;

    // What was not told is said.
    private static string? MeasuredBy(Told told, SessionRequest request) => told.Operator is not null ? null
        : request.Operator is { } who ? $"Measured by {who}; --operator names somebody else."
        : request.Hand is { Operator: HandStudy.Unnamed } ? "Nobody is named: the owner's hand study judges; --operator names somebody." : null;

    private static string? MeasuredWith(Told told, SessionRequest request) =>
        request.Instrument is null && KitChoice.IsWithoutU(request.Procedure)
            ? $"No instrument is named, and none of the kit serves for {Words.Clean(request.Procedure.Instruments[0].For)}: the result will have no U. Q leaves; instrument add describes one."
        : told.Instrument is null && request.Instrument is { } taken ? $"Measured with {Words.Clean(taken.Name)} of the kit; --instrument names another one." : null;

    private sealed record Told(string? Axis, string? Instrument, string? Operator, string? Tolerance, bool Resume, string? Data);

    /// <summary>A value that may be missing, which an outcome by itself cannot hold.</summary>
    internal readonly record struct Maybe<T>(T Value);
}
