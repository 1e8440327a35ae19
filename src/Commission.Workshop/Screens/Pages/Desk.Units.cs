using Commission.Core.Machines;
using Commission.Core.Quantities;

namespace Commission.Workshop.Screens.Pages;

/// <content>The units that lengths are shown and typed in: those asked for, else those the machine is kept in. What is kept stays as it is.</content>
public sealed partial class Desk
{
    /// <summary>Units of lengths.</summary>
    public ShownUnits Units => (Means.Units ?? Machine?.Units)?.Shown() ?? ShownUnits.Millimetres;

    /// <summary>The machine with the units that it is shown in; null before one is described. Never written as it stands: see <see cref="AsKept"/>.</summary>
    public Machine? AsShown => Machine is { } machine ? machine with { Units = Means.Units ?? machine.Units } : null;

    /// <summary>A machine that came of <see cref="AsShown"/>, with the units that it is kept in.</summary>
    public Machine AsKept(Machine shown) => Machine is { } kept ? shown with { Units = kept.Units } : shown;
}
