using System.CommandLine;
using System.Globalization;
using System.Text.Json;
using Commission.Core;
using Commission.Core.Characteristics;
using Commission.Core.Machines;
using Commission.Core.Quantities;
using Commission.Core.Reports;
using Commission.Workshop.Requests;

namespace Commission.App.CommandLine;

/// <summary><c>history change|recompute|next</c>: what happened to the machine, and what still holds.</summary>
internal sealed class HistoryChanges(Workbench bench)
{
    /// <summary>Enters a change.</summary>
    public Command Change()
    {
        string[] known = [.. Core.History.ChangeWord.All.Select(change => change.Word)];
        var word = Common.Offering(new Argument<string>("WORD") { Description = "What happened: " + string.Join(", ", known) }, () => known);
        var axis = Common.Axis("The axis, where it concerns one");
        var text = new Option<string?>("--text") { Description = "What happened, in your own words", HelpName = "TEXT" };
        var value = new Option<string?>("--value") { Description = "Steps per millimetre changed: the number that holds now, in the unit in which the controller states it; omitted: not known", HelpName = "NUMBER" };
        var command = new Command("change", "Enter what happened to the machine; results that rest on it are marked") { word, axis, value, text };
        command.SetAction(parsed =>
        {
            var answer = bench.Answer(parsed);
            return WithAxis(answer, parsed.GetValue(axis), named => bench.Write(parsed, store => Told(new TellChange(store), parsed.GetValue(value), parsed.GetValue(Common.Machine), parsed.GetValue(word)!, named, parsed.GetValue(text) ?? "")).Match(
                entry => answer.Done(string.Create(CultureInfo.InvariantCulture, $"entered as {entry.Id}; see history next for what it touches")),
                problems => answer.Problems(problems)));
        });
        return command;
    }

    private static Outcome<Core.History.JournalEntry> Told(TellChange tell, string? typed, string? machine, string word, AxisName? axis, string text) => typed is null
        ? tell.Run(machine, word, axis, text)
        : TypedNumber.Read(typed, "1") switch
        {
            NumberReading.Clear clear => tell.Number(machine, word, axis, clear.Number.Value, text),
            NumberReading.NotANumber not => not.Problem,
            _ => new Problem($"\"{Words.Clean(typed)}\" can be two numbers", "Type it with a point, or without"),
        };

    /// <summary>Computes findings again.</summary>
    public Command Recompute()
    {
        var command = new Command("recompute", "Compute every finding again from its readings and compare it with what was shown then");
        command.SetAction(parsed =>
        {
            var answer = bench.Answer(parsed);
            return bench.Read<List<RecomputedFinding>>(parsed, store => new Recompute(store, CharacteristicKinds.Find).Run(parsed.GetValue(Common.Machine)).ToList()).Match(
                all =>
                {
                    if (answer.Json)
                        answer.Value(writer => Write(writer, all));
                    else
                        answer.Text(all.Count == 0 ? ["no finding to compute again"] : all.Select(one => string.Create(CultureInfo.InvariantCulture, $"{one.Made.Sequence,6}  {Words.Clean(one.Made.Body.Characteristic)} {one.Made.Body.Axis}: {one.Text}")));
                    return all.Exists(one => one.As is RecomputedAs.Differs or RecomputedAs.NewerDiffers) ? ExitCode.Outside : ExitCode.Done;
                },
                problems => answer.Problems(problems));
        });
        return command;
    }

    /// <summary>How all results stand and what to do next.</summary>
    public Command Next()
    {
        var chain = Common.Chain();
        var command = new Command("next", "How every result stands, and what to do next with its reason and minutes") { chain };
        command.SetAction(parsed =>
        {
            var answer = bench.Answer(parsed);
            return bench.Read<(Standings Now, Core.History.Ledger Ledger)>(parsed, store => ChooseChain.From(store, parsed.GetValue(chain), parsed.GetValue(Common.Machine))
                .Then(journal => new WhatIsNext(journal).Run(parsed.GetValue(Common.Machine), TimeProvider.System.GetLocalNow())
                    .Then<(Standings, Core.History.Ledger)>(standings => (standings, journal.Present(standings.Machine.Name).Ledger)))).Match(
                found =>
                {
                    var standings = found.Now;
                    if (parsed.GetValue(Common.Plain) && !answer.Json)
                        answer.Text(StandingsText.Sentences(standings, found.Ledger, Common.Shown(parsed, standings.Machine)));
                    else if (answer.Json)
                        answer.Value(writer => Write(writer, standings));
                    else
                        answer.Text(StandingsText.Lines(standings, found.Ledger, Common.Shown(parsed, standings.Machine)));
                    return ExitCode.Done;
                },
                problems => answer.Problems(problems));
        });
        return command;
    }

    /// <summary>Goes on with the axis that was typed, or with none; tells where what was typed is no axis.</summary>
    internal static int WithAxis(Answer answer, string? typed, Func<AxisName?, int> act) => typed is null || MachineWords.TypedAxis(typed) is not null
        ? act(MachineWords.TypedAxis(typed))
        : answer.Problem($"\"{Words.Clean(typed)}\" is no axis", "Name X, Y or Z");

    private static void Write(Utf8JsonWriter writer, List<RecomputedFinding> all)
    {
        writer.Document("commission.recomputed/1", () =>
        {
            writer.Objects("findings", all, one =>
            {
                writer.WriteNumber("sequence", one.Made.Sequence);
                writer.WriteString("characteristic", Words.Clean(one.Made.Body.Characteristic));
                writer.WriteString("axis", one.Made.Body.Axis);
                writer.WriteString("as", one.As switch { RecomputedAs.Same => "same", RecomputedAs.Differs => "differs", RecomputedAs.NewerDiffers => "newer-differs", _ => "impossible" });
                writer.WriteString("text", one.Text);
            });
        });
    }

    private static void Write(Utf8JsonWriter writer, Standings standings)
    {
        writer.Document("commission.standings/1", () =>
        {
            writer.Objects("results", standings.States, state =>
            {
                writer.WriteString("item", state.Key.Item);
                writer.WriteString("axis", state.Key.Axis);
                writer.WriteString("state", Core.Reports.StandingWords.Of(state.Standing));
                writer.Texts("reasons", state.Reasons.Select(reason => reason.Because));
            });
            WorkAreaJson.Write(writer, standings.WorkArea);
            WorkAreaJson.Write(writer, standings.CrossChecks);
            writer.Objects("next", standings.Next, work =>
            {
                writer.WriteString("procedure", work.Procedure);
                writer.WriteString("axis", work.State.Key.Axis);
                writer.WriteString("because", work.Because);
                writer.WriteNumber("minutes", work.Minutes);
                writer.WriteString("skipping", work.Skipping);
            });
        });
    }
}
