using System.CommandLine;
using Commission.Core.Quantities;
using Commission.Core.Reports;
using Commission.Core.Upkeep;
using Commission.Workshop.Requests;
using Commission.Workshop.Screens.Sheets;

namespace Commission.App.CommandLine;

/// <summary><c>history trend</c>: how a result moved over the years.</summary>
internal sealed class HistoryTrend(Workbench bench)
{
    /// <summary>The command.</summary>
    public Command Declare()
    {
        string[] known = [.. WorkGraph.All.Where(item => item.Findings.Length > 0).Select(item => item.Id)];
        var what = Common.Offering(new Argument<string>("WHAT") { Description = "The characteristic: " + string.Join(", ", known) }, () => known);
        var axis = Common.Axis("The axis, where it is one of an axis");
        var place = new Option<string?>("--place") { Description = "The place, where there are several", HelpName = "NAME" };
        var chain = Common.Chain();
        var command = new Command("trend", "How a result moved: values with U, changes, level, forecast, and when to look again") { what, axis, place, chain };
        command.SetAction(parsed =>
        {
            var answer = bench.Answer(parsed);
            return HistoryChanges.WithAxis(answer, parsed.GetValue(axis), named => bench.Read<(TrendView View, ShownUnits Units)>(parsed, store => ChooseChain.From(store, parsed.GetValue(chain), parsed.GetValue(Common.Machine))
                .Then(journal => new ShowTrend(journal).Run(parsed.GetValue(Common.Machine), parsed.GetValue(what)!, named, parsed.GetValue(place))
                    .Then<(TrendView, ShownUnits)>(view => (view, Common.Shown(parsed, journal.Present(null).Ledger.Machines.GetValueOrDefault(view.Machine)?.Description))))).Match(
                told =>
                {
                    if (answer.Json)
                        answer.Value(writer => TrendJson.Write(writer, told.View));
                    // Read aloud a picture says nothing.
                    else if (parsed.GetValue(Common.Plain))
                        answer.Text(TrendText.Sentences(told.View, told.Units).Select(Words.Clean));
                    else
                        answer.Text(TrendSheet.Lines(told.View, told.Units).Select(Words.Clean));
                    return ExitCode.Done;
                },
                problems => answer.Problems(problems)));
        });
        return command;
    }
}
