using System.CommandLine;
using System.Globalization;
using Commission.App.Plain;
using Commission.Core;
using Commission.Core.Instruments;
using Commission.Core.Quantities;
using Commission.Core.Reports;
using Commission.Workshop.Ports;
using Commission.Workshop.Requests;

namespace Commission.App.CommandLine;

/// <summary><c>instrument add|list|show|check|retire</c>.</summary>
internal sealed class InstrumentVerb(Workbench bench) : IVerb
{
    /// <inheritdoc/>
    public Command Declare() => new("instrument", "What readings are taken with, and how good it is")
    {
        Add(),
        List(),
        One("show", "An instrument of the owner or of the catalogue", (parsed, name) => bench.Instruments(parsed)(name) is { } found
            ? found
            : new Problem($"no instrument is named \"{name}\"", "See instrument list, or instrument list --catalogue")),
        Check(),
        One("retire", "Take an instrument out of use; what was measured with it stays", (parsed, name) =>
            bench.Write(parsed, journal => new DescribeInstrument(journal).Retire(name))),
    };

    private Command Add()
    {
        var name = new Argument<string>("NAME") { Description = "Your name for it" };
        var like = Common.Offering(new Option<string?>("--like") { Description = "Id of the catalogue: limit, resolution and their source come from there", HelpName = "ID" }, () => InstrumentCatalogue.All.Select(row => row.Id));
        var kind = Common.Offering(new Option<string?>("--kind") { Description = string.Join(", ", InstrumentCatalogue.Kinds.Keys) }, () => InstrumentCatalogue.Kinds.Keys);
        var limit = new Option<string?>("--limit-mm") { Description = "Limit of error, mm; omitted: not known" };
        var resolution = new Option<string?>("--resolution-mm") { Description = "Last digit, mm" };
        var range = new Option<string?>("--range-mm") { Description = "Longest length it reads, mm" };
        var source = new Option<string?>("--source") { Description = "Where the limit comes from: a certificate, a check against a block" };
        var cable = new Option<bool>("--cable") { Description = "It types its readings through a cable: while something moves, one whole number of it is held back and does not stop" };
        var command = new Command("add", "Enter an instrument") { name, like, kind, limit, resolution, range, source, cable };
        command.SetAction(parsed =>
        {
            var (answer, row) = (bench.Answer(parsed), parsed.GetValue(like)?.Trim());
            var told = InstrumentOptionsText.Read(parsed.GetValue(name)!, new InstrumentOptionsText.Told(
                row, parsed.GetValue(kind), parsed.GetValue(limit), parsed.GetValue(resolution), parsed.GetValue(range), parsed.GetValue(source))
            { Cable = parsed.GetValue(cable) });
            if (bench.Here.IsAnswered && told is Outcome<Instrument>.Good { Value: var typed })
            {
                if (new InstrumentAsked(bench.Here).Settled(typed, row) is not { } settled)
                    return answer.Done("Put aside: nothing was entered.");
                told = settled;
            }

            return told.Then(instrument => bench.Write(parsed, journal => new DescribeInstrument(journal).Add(instrument)))
                .Match(
                    instrument =>
                    {
                        Remark(answer, instrument, row);
                        return Tell(answer, instrument, bench.Units(parsed));
                    },
                    problems => answer.Problems(problems));
        });
        return command;
    }

    // Options are not asked about; what can hardly be is said. What was kept by an answer was said before.
    private void Remark(Answer answer, Instrument instrument, string? likeId)
    {
        foreach (var doubt in bench.Here.IsAnswered ? [] : InstrumentDoubt.Among(instrument, likeId))
            (answer.Json ? bench.Here.Error : bench.Here.Out).WriteLine($"Remark: {doubt.Reason}.");
    }

    private Command List()
    {
        var catalogue = new Option<bool>("--catalogue") { Description = "What the program knows, with the sources of the limits" };
        var command = new Command("list", "Your instruments, or the catalogue") { catalogue };
        command.SetAction(parsed =>
        {
            var answer = bench.Answer(parsed);
            if (parsed.GetValue(catalogue))
                return Tell(answer, InstrumentCatalogue.All.Select(row => (row.Instrument, Retired: false)), bench.Units(parsed));
            return bench.Ledger(parsed).Match(
                ledger => Tell(answer, ledger.Instruments.Values.Select(entered => (entered.Body.Description, entered.Body.Retired)), bench.Units(parsed)),
                problems => answer.Problems(problems));
        });
        return command;
    }

    private Command Check()
    {
        var name = new Argument<string>("NAME") { Description = "Its name" };
        var block = new Argument<string>("BLOCK") { Description = "Length of the gauge block or setting rod, best near the length that is measured with it" };
        var readings = new Argument<string[]>("READINGS") { Description = "What the instrument shows on it: at least three readings, best five, with blanks between, each taken anew", Arity = ArgumentArity.OneOrMore };
        var limit = new Option<string?>("--block-limit") { Description = "The block's own limit of error; omitted: not known, and then it counts as the instrument's last digit", HelpName = "LENGTH" };
        var command = new Command("check", "Check an instrument against a known length, and keep the limit of error that follows") { name, block, readings, limit };
        command.SetAction(parsed =>
        {
            var (answer, units, wanted) = (bench.Answer(parsed), bench.Units(parsed), parsed.GetValue(name)!);
            return bench.Write(parsed, journal => Owned(journal, wanted).Then(instrument => new CheckInstrument(journal).Run(
                    instrument, parsed.GetValue(block)!, parsed.GetValue(limit) ?? "", string.Join(' ', parsed.GetValue(readings)!),
                    bench.Here.Clock.GetLocalNow().ToString("ddd d MMM yyyy", CultureInfo.InvariantCulture), units)).Then<(InstrumentCheck, Instrument)>(found => (found, Owned(journal, wanted).Require())))
                .Match(found => Tell(answer, found.Item1, found.Item2, units), problems => answer.Problems(problems));
        });
        return command;
    }

    private static Outcome<Instrument> Owned(IJournal journal, string name) => journal.Present(null).Ledger.Instruments.TryGetValue(name.Trim(), out var entered) && !entered.Body.Retired
        ? entered.Body.Description
        : new Problem($"no instrument of yours is named \"{PlainText.Of(name)}\"", "See instrument list; instrument add enters one");

    private static int Tell(Answer answer, InstrumentCheck found, Instrument instrument, ShownUnits units)
    {
        if (answer.Json)
            return Tell(answer, instrument, units);
        answer.Text([$"Its error there is {found.Words(units)}.", InstrumentText.Line(instrument, retired: false, units)]);
        return ExitCode.Done;
    }

    private Command One(string word, string meaning, Func<ParseResult, string, Outcome<Instrument>> find)
    {
        var name = new Argument<string>("NAME") { Description = "Its name" };
        var command = new Command(word, meaning) { name };
        command.SetAction(parsed =>
        {
            var answer = bench.Answer(parsed);
            return find(parsed, parsed.GetValue(name)!).Match(instrument => Tell(answer, instrument, bench.Units(parsed)), problems => answer.Problems(problems));
        });
        return command;
    }

    private static int Tell(Answer answer, Instrument instrument, ShownUnits units)
    {
        if (answer.Json)
            answer.Value(writer => InstrumentText.Json(writer, instrument, retired: false));
        else
            answer.Text([InstrumentText.Line(instrument, retired: false, units)]);
        return ExitCode.Done;
    }

    private static int Tell(Answer answer, IEnumerable<(Instrument Description, bool Retired)> found, ShownUnits units)
    {
        var all = found.ToList();
        if (answer.Json)
        {
            answer.Value(writer =>
            {
                writer.WriteStartArray();
                foreach (var (instrument, retired) in all)
                    InstrumentText.Json(writer, instrument, retired);
                writer.WriteEndArray();
            });
        }
        else
        {
            answer.Text(all.Count == 0 ? ["no instrument is entered; see instrument add"] : all.Select(i => InstrumentText.Line(i.Description, i.Retired, units)));
        }

        return ExitCode.Done;
    }
}
