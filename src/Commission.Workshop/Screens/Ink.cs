namespace Commission.Workshop.Screens;

/// <summary>What a stretch of text is, so that a theme can choose how it looks. Form already says everything; ink repeats it.</summary>
public enum Ink
{
    /// <summary>Running text.</summary>
    Text,

    /// <summary>Heads and legends.</summary>
    Quiet,

    /// <summary>Typed digits and the one big value of a sheet.</summary>
    Strong,

    /// <summary>Needs a hand: outside, suspect, stale.</summary>
    Ochre,

    /// <summary>Not yet known: undecided, due, words of the link.</summary>
    Blue,

    /// <summary>A key that can be pressed.</summary>
    Key,

    /// <summary>The rule of row 2; carries no text.</summary>
    Rule,

    /// <summary>Where what is typed goes to.</summary>
    Focus,

    /// <summary>Hazard tape.</summary>
    Hazard,

    /// <summary>The STOP field and the STOP sheet.</summary>
    Stop,
}
