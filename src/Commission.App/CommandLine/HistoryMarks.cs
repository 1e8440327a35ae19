using System.CommandLine;
using System.Globalization;
using Commission.Core;
using Commission.Core.History;
using Commission.Core.Quantities;
using Commission.Workshop.Ports;
using Commission.Workshop.Requests;

namespace Commission.App.CommandLine;

/// <summary><c>history withdraw|exclude|note</c>: what is said later about an entry. Nothing that stands is changed.</summary>
internal sealed class HistoryMarks(Workbench bench)
{
    private readonly Argument<string> number = new("NUMBER") { Description = "Number of the entry, as history list shows it" };
    private readonly Option<string> reason = new("--reason") { Description = "Why, in a few words", HelpName = "TEXT", Required = true };
    private readonly Option<string?> person = new("--operator") { Description = "Handle of the person", HelpName = "HANDLE" };

    /// <summary>Takes an entry back.</summary>
    public Command Withdraw()
    {
        var command = new Command("withdraw", "Take back a finding, a change, a setting that was told or an exclusion; what stood before counts again") { number, reason, person };
        command.SetAction(parsed =>
        {
            var still = "";
            return Mark(
                parsed,
                (store, wanted) => new WithdrawEntry(store).Run(wanted, parsed.GetValue(reason)!, parsed.GetValue(person)).Then<JournalEntry>(entry =>
                {
                    still = WithdrawEntry.StillDescribed(store.Present(null).Ledger, store.Entries(wanted).First());
                    return entry;
                }),
                () => still);
        });
        return command;
    }

    /// <summary>Leaves a reading out.</summary>
    public Command Exclude()
    {
        var command = new Command("exclude", "Leave a reading out of what is found from now on; it stays in the journal with its reason") { number, reason, person };
        command.SetAction(parsed => Mark(parsed, (store, wanted) => new MarkEntry(store).Exclude(wanted, parsed.GetValue(reason)!, parsed.GetValue(person))));
        return command;
    }

    /// <summary>Writes a note.</summary>
    public Command Note()
    {
        var text = new Argument<string>("TEXT") { Description = "The words" };
        var about = new Option<string?>("--about") { Description = "Number of the entry it speaks of; omitted: a free note", HelpName = "NUMBER" };
        var command = new Command("note", "Write a note, or a note to an entry") { text, about, person };
        command.SetAction(parsed =>
        {
            var answer = bench.Answer(parsed);
            int Note(long? named) => Told(answer, bench.Write(parsed, store => new MarkEntry(store).Note(parsed.GetValue(Common.Machine), named, parsed.GetValue(text)!, parsed.GetValue(person))));
            return parsed.GetValue(about) is { } typed ? WithNumber(answer, typed, wanted => Note(wanted)) : Note(null);
        });
        return command;
    }

    /// <summary>Goes on with the number of an entry; tells where what was typed is none.</summary>
    internal static int WithNumber(Answer answer, string typed, Func<long, int> act) => long.TryParse(typed, NumberStyles.None, CultureInfo.InvariantCulture, out var number)
        ? act(number)
        : answer.Problem($"\"{Words.Clean(typed)}\" is not the number of an entry", "See history list");

    private int Mark(ParseResult parsed, Func<IStoreFolder, long, Outcome<JournalEntry>> mark, Func<string>? besides = null)
    {
        var answer = bench.Answer(parsed);
        return WithNumber(answer, parsed.GetValue(number)!, wanted => Told(answer, bench.Write(parsed, store => mark(store, wanted)), besides));
    }

    private static int Told(Answer answer, Outcome<JournalEntry> outcome, Func<string>? besides = null) => outcome.Match(
        entry => answer.Done($"entered as {entry.Id}{(besides?.Invoke() is { Length: > 0 } more ? ". " + Words.Clean(more) : "")}"),
        problems => answer.Problems(problems));
}
