using Commission.Core;
using Commission.Core.History;
using Commission.Core.Machines;
using Commission.Workshop.Ports;

namespace Commission.Workshop.Requests;

/// <summary>Enters a change in a machine's life: what it makes stale follows from the stale table.</summary>
public sealed class TellChange(IJournal journal)
{
    /// <summary>Enters the change.</summary>
    /// <param name="machine">The machine; null for the only one.</param>
    /// <param name="word">Word of change.</param>
    /// <param name="axis">The axis; null where it concerns none or all.</param>
    /// <param name="text">What happened, in the owner's words; may be empty.</param>
    /// <param name="by">Handle of the person; null where none is named.</param>
    public Outcome<JournalEntry> Run(string? machine, string word, AxisName? axis, string text, string? by = null) => ChangeWord.Find(word) is null
        ? new Problem($"\"{PlainText.Of(word)}\" is no change that is known", $"Name one of: {string.Join(", ", ChangeWord.All.Select(change => change.Word))}")
        : ChooseMachine.From(journal.Present(null).Ledger, machine)
            .Then(chosen => journal.Append(new EntryBody.ChangeTold(word, axis?.ToString(), text) { Machine = chosen.Name, Operator = by }));

    /// <summary>Enters a change by the number that holds now, with a note of the words where there are any.</summary>
    /// <param name="machine">The machine; null for the only one.</param>
    /// <param name="word">Word of change.</param>
    /// <param name="axis">The axis.</param>
    /// <param name="value">The number, in the unit in which the controller of the axis states it.</param>
    /// <param name="text">What happened, in the owner's words; may be empty.</param>
    /// <param name="by">Handle of the person; null where none is named.</param>
    public Outcome<JournalEntry> Number(string? machine, string word, AxisName? axis, double value, string text, string? by = null) =>
        ChooseMachine.Present(journal, machine).Then(chosen => ChangedNumber.Of(chosen.Machine, word, axis) is { } asked
            ? asked.Told(value).Then(told => journal.Append(told with { Machine = chosen.Machine.Name, Operator = by }))
                .Then(entry => text.Length == 0 ? entry : journal.Append(new EntryBody.Noted(entry.Sequence, text) { Machine = chosen.Machine.Name, Operator = by }).Then<JournalEntry>(_ => entry))
            : new Problem($"\"{PlainText.Of(word)}\" has no number{(axis is null && word == ChangedNumber.StepsChanged ? " without its axis" : "")}", axis is null ? "Name the axis" : "Tell it in words"));
}
