using System.CommandLine;
using System.Globalization;
using Commission.Core;
using Commission.Core.Characteristics;
using Commission.Workshop.Requests;

namespace Commission.App.CommandLine;

/// <summary><c>history adopt</c>: a lost store is begun anew from what hangs on the wall and what was saved of the controller.</summary>
internal sealed class HistoryAdopt(Workbench bench)
{
    /// <summary>The command.</summary>
    public Command Declare()
    {
        var kind = Common.Offering(new Argument<string?>("KIND") { Description = "The characteristic of a value on the card, as fit names it", Arity = ArgumentArity.ZeroOrOne }, () => CharacteristicKinds.All.Select(known => known.Id));
        var axis = Common.Axis("The axis, where it concerns one");
        var value = new Option<string?>("--value") { Description = "The value on the card with its unit", HelpName = "120ppm" };
        var settings = new Option<string?>("--settings") { Description = "A file made by controller settings save", HelpName = "FILE" };
        var command = new Command("adopt", "Begin a lost store anew: enter values off the wall card or a file of settings; they count as due, adopted and not measured") { kind, axis, value, settings };
        command.SetAction(parsed =>
        {
            var answer = bench.Answer(parsed);
            return HistoryChanges.WithAxis(answer, parsed.GetValue(axis), named => ((parsed.GetValue(kind), parsed.GetValue(value), parsed.GetValue(settings)) switch
            {
                ({ } characteristic, { } typed, null) => bench.Write(parsed, store => new AdoptValues(store).Value(parsed.GetValue(Common.Machine), characteristic, named, typed))
                    .Then<string>(entry => $"entered as {entry.Id}: adopted, not measured"),
                (null, null, { } file) => bench.Files.Read(file).Then(text => bench.Write(parsed, store => new AdoptValues(store).Settings(parsed.GetValue(Common.Machine), file, text)))
                    .Then<string>(count => string.Create(CultureInfo.InvariantCulture, $"{count} settings adopted, not measured")),
                _ => new Problem("adopt takes a characteristic with its value, or a file of settings", "Write history adopt axis-scale --axis X --value 120ppm, or history adopt --settings FILE"),
            }).Match(answer.Done, problems => answer.Problems(problems)));
        });
        return command;
    }
}
