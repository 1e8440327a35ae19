using System.Globalization;
using Commission.Core.Procedures;

namespace Commission.Workshop.Screens.Pages;

/// <content>What is typed into the cell, a character at a time.</content>
public sealed partial class RunPage
{
    private const int MostTyped = 16;

    /// <inheritdoc/>
    public override void Type(char character)
    {
        if (Session.Run.Needs is Need.Line || _typed.Length < MostTyped)
            _typed += character;
        else
            Desk.Say(string.Create(CultureInfo.InvariantCulture, $"A number of at most {MostTyped} characters."));
    }

    /// <inheritdoc/>
    public override void TakeBack() => _typed = _typed.Length > 0 ? _typed[..^1] : _typed;
}
