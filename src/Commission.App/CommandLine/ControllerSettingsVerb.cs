using System.Collections.Immutable;
using System.CommandLine;
using Commission.App.Attended;
using Commission.Core;
using Commission.Core.History;
using Commission.Core.Machines;
using Commission.Core.Machines.Dialects;
using Commission.Core.Quantities;
using Commission.Workshop.Controllers;
using Commission.Workshop.Ports;
using Commission.Workshop.Requests;

namespace Commission.App.CommandLine;

/// <summary><c>controller settings save|compare|write|restore</c>.</summary>
internal sealed class ControllerSettingsVerb(Workbench bench)
{
    private readonly LinkOptions options = new();

    /// <summary>What an act has to work with.</summary>
    /// <param name="Link">The link.</param>
    /// <param name="Settings">The settings behind it.</param>
    /// <param name="Answer">Where the answer goes.</param>
    /// <param name="Asking">Where is asked.</param>
    /// <param name="Agreed">Whether confirmations of settings are given beforehand.</param>
    private sealed record Work(ControllerSettings Settings, Answer Answer, Asking Asking, bool Agreed);

    /// <summary>The command.</summary>
    public Command Declare() => new("settings", "Save, compare, write and restore what is set in the controller")
    {
        Save(),
        Compare(),
        Write(),
        Restore(),
    };

    private Command Save()
    {
        var to = new Option<string?>("--out") { Description = "The file", HelpName = "FILE" };
        var command = options.On(new Command("save", "All settings into a file, and into the store where a machine is known") { to });
        command.SetAction((parsed, cancellation) => parsed.GetValue(to) is { } file
            ? RunAsync(parsed, keep: true, async work => (await work.Settings.SaveAsync(cancellation).ConfigureAwait(false))
                .Then(snapshot => bench.Files.Write(file, SettingsFile.Write(snapshot)).Then<int>(path =>
                    work.Answer.Done($"{snapshot.Settings.Length} settings saved to {path}"))), cancellation)
            : Task.FromResult(bench.Answer(parsed).Problem("no file is named", "Name it with --out FILE")));
        return command;
    }

    private Command Compare()
    {
        var file = new Argument<string>("FILE") { Description = "A file written by settings save" };
        var command = options.On(new Command("compare", "What differs from a file, as received") { file });
        command.SetAction((parsed, cancellation) => WithFile(parsed, parsed.GetValue(file)!, snapshot =>
            RunAsync(parsed, keep: false, async work => (await work.Settings.CompareAsync(snapshot, cancellation).ConfigureAwait(false))
                .Then<int>(differences => Told(work.Answer, differences)), cancellation)));
        return command;
    }

    private Command Write()
    {
        var axis = Common.Axis("X, Y or Z");
        var perMm = new Option<string?>("--steps-per-mm") { Description = "The new ratio, steps for one millimetre", HelpName = "V" };
        var perInch = new Option<string?>("--steps-per-inch") { Description = "The new ratio, steps for one inch", HelpName = "V" };
        var command = options.On(new Command("write", "Write the ratio of an axis, after a yes, and read it back") { axis, perMm, perInch });
        command.SetAction((parsed, cancellation) => Ratio(parsed.GetValue(axis), parsed.GetValue(perMm), parsed.GetValue(perInch)).Match(
            told => RunAsync(parsed, keep: true, async work =>
            {
                var planned = await work.Settings.PlanStepsAsync(told.Axis, told.StepsPerMm, cancellation).ConfigureAwait(false);
                return planned is Outcome<ImmutableArray<PlannedWrite>>.Good { Value: var writes }
                    ? await WriteAsync(work, [[.. writes]], cancellation).ConfigureAwait(false)
                    : planned.Then<int>(_ => ExitCode.Done);
            }, cancellation),
            problems => Task.FromResult(bench.Answer(parsed).Problems(problems))));
        return command;
    }

    private Command Restore()
    {
        var file = new Argument<string>("FILE") { Description = "A file written by settings save" };
        var command = options.On(new Command("restore", "Write back what differs from a file; what decides direction, enabling, switches or homing after its own yes") { file });
        command.SetAction((parsed, cancellation) => WithFile(parsed, parsed.GetValue(file)!, snapshot => RunAsync(parsed, keep: true, async work =>
        {
            var planned = await work.Settings.PlanRestoreAsync(snapshot, cancellation).ConfigureAwait(false);
            return planned is Outcome<ImmutableArray<IGrouping<SettingWeight, PlannedWrite>>>.Good { Value: var groups }
                ? await WriteAsync(work, groups.SelectMany(Batches), cancellation).ConfigureAwait(false)
                : planned.Then<int>(_ => ExitCode.Done);
        }, cancellation)));
        return command;
    }

    // What is plain goes in one; the rest one by one. Pairs are never parted.
    private static IEnumerable<PlannedWrite[]> Batches(IGrouping<SettingWeight, PlannedWrite> group) =>
        group.Key == SettingWeight.Plain ? [[.. group]] : group.GroupBy(write => (write.Setting.Name, write.Setting.Axis)).Select(pair => pair.ToArray());

    private static async Task<Outcome<int>> WriteAsync(Work work, IEnumerable<PlannedWrite[]> batches, CancellationToken cancellation)
    {
        var written = new List<SavedSetting>();
        var left = 0;
        foreach (var batch in batches)
        {
            var lines = string.Join("; ", batch.Select(write => Words.Clean(write.Line)));
            var apart = batch[0].Setting.Weight is var weight and not SettingWeight.Plain ? $" This decides {weight.ToString().ToLowerInvariant()}." : "";
            if (work.Agreed)
                work.Asking.Say(lines + apart);
            else if (!work.Asking.Confirm("write", $"{lines}.{apart} yes or S writes it, no leaves it."))
            {
                left += batch.Length;
                continue;
            }

            switch (await work.Settings.WriteAsync([.. batch], cancellation).ConfigureAwait(false))
            {
                case Outcome<ImmutableArray<SavedSetting>>.Good good:
                    written.AddRange(good.Value);
                    break;
                case Outcome<ImmutableArray<SavedSetting>>.Bad bad:
                    return new Outcome<int>.Bad(written.Count == 0 ? bad.Problems : bad.Problems.Insert(0, new Problem(Read(written), "These stand; what follows went otherwise")));
            }
        }

        var read = written.Count == 0 ? "nothing was written" : Read(written);
        work.Answer.Done(left == 0 ? read : $"{read}; {left} left as they are");
        return written.Count == 0 && left > 0 ? ExitCode.BadRequest : ExitCode.Done;
    }

    private static string Read(List<SavedSetting> written) =>
        "written and read back: " + string.Join(", ", written.Select(one => Words.Clean($"{(one.Name is { } name ? SettingName.OfSaved(name) : one.Key)} {one.Text} {one.Unit}".TrimEnd())));

    private Task<int> WithFile(ParseResult parsed, string file, Func<SettingsSnapshot, Task<int>> use) =>
        bench.Files.Read(file).Then(text => SettingsFile.Read(file, text)).Then(snapshot => Spoken(parsed, snapshot))
            .Match(use, problems => Task.FromResult(bench.Answer(parsed).Problems(problems)));

    // Told before the port is opened: a file of another dialect has nothing in common with this link.
    private Outcome<SettingsSnapshot> Spoken(ParseResult parsed, SettingsSnapshot snapshot) => options.Read(parsed)
        .Then(request => new ConnectController(bench.Here.Ports, bench.Files, bench.Here.Clock).Dialect(request.Address.Dialect))
        .Then<SettingsSnapshot>(dialect => dialect.Name == snapshot.Dialect
            ? snapshot
            : new Problem($"the file was saved with the dialect {Words.Clean(snapshot.Dialect)}", "Name that dialect with --dialect, or another file"));

    private static int Told(Answer answer, ImmutableArray<SettingDifference> differences)
    {
        if (answer.Json)
            answer.Value(writer => SettingDifferences.Write(writer, differences));
        else if (differences.IsEmpty)
            answer.Text(["nothing differs"]);
        else
            answer.Text(differences.Select(one => Words.Clean($"{one.Key}{(one.Name is { } name ? $" ({SettingName.OfSaved(name)})" : "")}: {one.Old ?? "none"} -> {one.New ?? "none"}")));
        return differences.IsEmpty ? ExitCode.Done : ExitCode.Outside;
    }

    private static Outcome<(AxisName Axis, double StepsPerMm)> Ratio(string? axis, string? perMm, string? perInch)
    {
        if (MachineWords.TypedAxis(axis) is not { } known)
            return new Problem("the axis is missing or none", "Name it with --axis X, Y or Z");
        if ((perMm is null) == (perInch is null))
            return new Problem("one new ratio is needed", "Give --steps-per-mm or --steps-per-inch");
        return TypedNumber.Read((perMm ?? perInch)!, "1") switch
        {
            NumberReading.Clear { Number.Value: > 0 and var steps } => (known, perInch is null ? steps : steps / Inch.Mm),
            NumberReading.Ambiguous => new Problem("the ratio can be read in two ways", "Write it with a point before the decimals"),
            _ => new Problem("the ratio is no positive number", "Write it like 319.606"),
        };
    }

    private async Task<int> RunAsync(ParseResult parsed, bool keep, Func<Work, Task<Outcome<int>>> act, CancellationToken cancellation)
    {
        var answer = bench.Answer(parsed);
        return await options.Read(parsed).Then(request => Known(parsed, keep).Then<(LinkRequest Link, KnownMachine Known)>(known => (request, known))).Match(
            async told =>
            {
                using (told.Known.Store)
                    return await LinkedAsync(told.Link, told.Known, parsed, answer, act, cancellation).ConfigureAwait(false);
            },
            problems => Task.FromResult(answer.Problems(problems))).ConfigureAwait(false);
    }

    private async Task<int> LinkedAsync(
        LinkRequest request, KnownMachine known, ParseResult parsed, Answer answer, Func<Work, Task<Outcome<int>>> act, CancellationToken cancellation)
    {
        var agreed = parsed.GetValue(Common.Yes);
        return await new LinkOpening(bench, answer).UseAsync(request, agreed, async (link, asking) =>
        {
            if (!await link.HeardAsync(bench.Here.Clock, cancellation).ConfigureAwait(false))
                return answer.Problem("the controller does not tell its state", "Check the cable and the dialect", ExitCode.Failed);
            if (known is { Store: { } store, Name: { } name }
                && await Identification.AskAsync(new IdentifyController(link, store, name), name, asking, cancellation).ConfigureAwait(false) is { } refused)
                return answer.Problems(refused);
            var work = new Work(new ControllerSettings(link, known.Store, known.Name), answer, asking, agreed);
            return (await act(work).ConfigureAwait(false)).Match(
                code => code,
                problems => answer.Problems(problems, ExitCode.Failed));
        }, cancellation).ConfigureAwait(false);
    }

    /// <summary>The machine whose journal takes snapshots and writes; empty where none is known, because the request needs none.</summary>
    private sealed record KnownMachine(IStoreFolder? Store, string? Name);

    private Outcome<KnownMachine> Known(ParseResult parsed, bool keep)
    {
        var named = parsed.GetValue(Common.Machine);
        if (!keep || (named is null && !bench.HasStore(parsed)))
            return new KnownMachine(null, null);
        return bench.Store(parsed).Then<KnownMachine>(store =>
        {
            var ledger = store.Present(null).Ledger;
            if (named is null && ledger.Machines.Values.All(machine => machine.Retired))
            {
                store.Dispose();
                return new KnownMachine(null, null);
            }

            var chosen = store.ReadOnlyReason is { } reason
                ? new Problem("the store can only be read: " + reason, "Close the other program, or free what is named") { IsFailure = true }
                : ChooseMachine.From(ledger, named).Then<KnownMachine>(machine => new KnownMachine(store, machine.Name));
            if (chosen is Outcome<KnownMachine>.Bad)
                store.Dispose();
            return chosen;
        });
    }
}
