using System.Globalization;
using Commission.Core;
using Commission.Core.History;
using Commission.Core.Procedures;

namespace Commission.Workshop.Screens.Pages;

/// <content>What is typed into the cell, a character at a time.</content>
public sealed partial class RunPage
{
    private const int MostTyped = 16;

    // What stands in the cell was not taken: the next character begins anew.
    private bool _refused;

    // Both meanings of a comma, until another key is typed.
    private CommaChoice? _comma;

    // A key held down, or one Backspace too many after a number, goes no further back than the cell.
    private bool _backHeld;

    /// <inheritdoc/>
    public override void Type(char character)
    {
        if (Session.Run.Needs is Need.SlipQuestion asked && !ReadsAgain(asked, character))
            return;
        // What was refused is typed over; Backspace edits it.
        if (_refused)
            _typed = "";
        (_comma, _doubt, _backHeld, _refused) = (null, null, true, false);
        if (character == '/' && !Scene.Fractions)
            Desk.Say("A fraction counts in inches only. Type it with a point, as 0.25.");
        if (Session.Run.Needs is Need.Line || _typed.Length < MostTyped)
            _typed += character;
        else
            Desk.Say(string.Create(CultureInfo.InvariantCulture, $"A number of at most {MostTyped} characters."));
    }

    // Who types another number at a question about the last reading has read it again.
    private bool ReadsAgain(Need.SlipQuestion asked, char character)
    {
        if (asked.Reading.Sequence == Session.Run.Readings.LastOrDefault(reading => reading.Stands)?.Sequence && Session.Run.After(new RunEvent.SlipAnswered(SlipAnswer.ReadAgain, null)).Needs is Need.TakeReading)
            Happen(new RunEvent.SlipAnswered(SlipAnswer.ReadAgain, null));
        else
            Desk.Say($"{character} is a number. Answer first: R, A or O.");
        Arrived();
        return Session.Run.Needs is Need.TakeReading;
    }

    /// <inheritdoc/>
    public override void TakeBack()
    {
        (_comma, _doubt, _refused) = (null, null, false);
        if (_typed.Length > 0)
            _typed = _typed[..^1];
        else if (Session.Run.Needs is Need.TakeReading or Need.Number or Need.Line)
            OneBack();
    }

    // In an empty cell one cell back: the reading before, or the answer before the first.
    private void OneBack()
    {
        if (_backHeld)
        {
            Desk.Say(Session.Run.Needs is Need.Line ? "The field is empty. Esc, then Backspace once more, goes one sheet back." : "The cell is empty. U takes back what was accepted last.");
            return;
        }

        _backHeld = true;
        if (Session.LastDone is Outcome<JournalEntry>.Good { Value.Body: EntryBody.ReadingTaken })
            TakeBackReading(1);
        else if (NoWayBack is { } why)
            Desk.Say($"Nothing is taken back: {why}.");
        else
            Undo();
    }

    private void Read(string typed)
    {
        if (LinkedMeanwhile() || StaysForLink())
            return;
        switch (Session.Read(typed))
        {
            case Outcome<string?>.Bad bad:
                Desk.Say(bad.Problems);
                _refused = true;
                return;
            case Outcome<string?>.Good { Value: { } words }:
                // What is asked about is not accepted yet.
                if (Session.Run.Needs is not Need.SlipQuestion)
                    Desk.Say(Recorded(words));
                if (_layout == Layout.Call)
                    Desk.Ring();
                if (Session.Run.Needs is Need.SlipQuestion)
                    Desk.Cue(2);
                break;
        }

        (_typed, _comma, _backHeld, _refused) = ("", null, false, false);
        After(readBack: _layout == Layout.Call);
    }

    private double? Given(string unit, string? typedIn = null)
    {
        var given = TypedEntry.Number(_typed, unit, typedIn);
        if (given is Outcome<double>.Bad bad)
        {
            Desk.Say(bad.Problems);
            _refused = true;
        }

        return given is Outcome<double>.Good good ? good.Value : null;
    }

    // Nothing is taken that has two meanings.
    private bool AsksComma()
    {
        var unit = Session.Run.Needs switch
        {
            Need.TakeReading read => TypedEntry.UnitOf(read.Unit, Session.Run.Machine.Units),
            Need.Number number => number.TypedIn,
            Need.Change => "",
            _ => null,
        };
        if (unit is null || CommaChoice.Of(_typed, unit) is not { } two)
            return false;
        Desk.Say(_comma == two ? two.Neither : two.Question);
        (_comma, _refused) = (two, true);
        return true;
    }

    private void ChooseComma(CommaChoice two, int by)
    {
        (_typed, _refused) = (two.Chosen(by), true);
        Desk.Say(two.Words(by));
    }

    private string Digits(TakenReading reading)
    {
        var (value, symbol) = Units.Show(reading.Value, (Session.Run.Items.FirstOrDefault(item => item.Name == reading.Step)?.Step as Step.Read)?.Unit ?? "mm");
        return Core.Quantities.ReadingText.Digits(reading.Typed, value, symbol, Session.Run.Setting.Instrument?.ResolutionMm);
    }
}
