namespace Commission.Workshop.Screens.Sheets;

/// <summary>The first start: the first page of a machine's logbook.</summary>
public static class FirstStartSheet
{
    /// <summary>The sheet.</summary>
    public static Sheet Of() => new()
    {
        Path = "Commission",
        Right = "first start . the store is empty",
        Body =
        [
            " No machine is described here yet.",
            "",
            " This program helps to find out what a self-built router really does, to",
            " change what is worth changing, and to leave alone what is not.",
            "",
            ((Line)"    M   describe a new machine            7 questions, about 5 minutes").With(4, 1, Ink.Key),
            ((Line)"    S   start on a practice machine       nothing connected, nothing kept").With(4, 1, Ink.Key),
            ((Line)"    I   read in an exported history       from another computer").With(4, 1, Ink.Key),
            "",
            " Worth having at hand for M. What you do not know stays empty; it is asked",
            " again on the day a result depends on it.",
            "    travel of each axis        lead of each screw      papers of the screws",
            "    pitch and teeth of belts or racks                  steps per mm in use",
            "    what the machine shall make (it sets the limits)",
            "",
            " Readings stay on this computer. No network is used.",
        ],
        Next = "Describe the machine. Enter opens the first question: its name.",
        Because = "Nothing is powered, moved or written to a controller by that.",
        Keys =
        [
            new("Enter", "new machine", "new-machine"), new("S", "start practice", "practice"), new("I", "read in", "import"),
            new("F1", "help", "help"), new("F2", "card", "card"), new("Q", "leave", "leave"),
            new("M", "new machine", "new-machine") { Quiet = true },
        ],
    };
}
