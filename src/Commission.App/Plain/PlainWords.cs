namespace Commission.App.Plain;

/// <summary>The words that every question of plain mode takes, whatever it asks.</summary>
internal static class PlainWords
{
    /// <summary>What they do, as it is said at the beginning.</summary>
    public const string Told = "At every question: Q puts it aside, U takes the last answer back, help tells more.";

    /// <summary>It is put aside.</summary>
    public static bool IsAside(string answer) => Is(answer, "q") || Is(answer, "quit");

    /// <summary>More is to be told.</summary>
    public static bool IsHelp(string answer) => Is(answer, "help") || answer == "?";

    /// <summary>The last answer is taken back.</summary>
    public static bool IsBack(string answer) => IsBackLetter(answer) || Is(answer, "back") || Is(answer, "undo");

    /// <summary>The letter for it, which may begin one of the answers.</summary>
    public static bool IsBackLetter(string answer) => Is(answer, "u");

    /// <summary>Yes.</summary>
    public static bool IsYes(string answer) => Is(answer, "yes") || Is(answer, "y");

    /// <summary>Yes, or S as on the screens.</summary>
    public static bool IsSo(string answer) => IsYes(answer) || Is(answer, "s");

    /// <summary>No, or O as on the screens.</summary>
    public static bool IsNo(string answer) => Is(answer, "no") || Is(answer, "n") || Is(answer, "o");

    /// <summary>Whether an answer is a word, in capitals or not.</summary>
    public static bool Is(string answer, string word) => answer.Equals(word, StringComparison.OrdinalIgnoreCase);
}
