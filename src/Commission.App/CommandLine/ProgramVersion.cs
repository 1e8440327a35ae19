using System.Reflection;

namespace Commission.App.CommandLine;

/// <summary>The version with the commit it was built from.</summary>
internal static class ProgramVersion
{
    /// <summary>The number alone, for example <c>0.1.0</c>.</summary>
    public static string Number => Parts().Number;

    /// <summary>For example <c>commission 0.1.0 (1a2b3c4d5e6f)</c>.</summary>
    public static string Line
    {
        get
        {
            var (number, commit) = Parts();
            return commit is null ? $"commission {number} (commit unknown)" : $"commission {number} ({commit})";
        }
    }

    private static (string Number, string? Commit) Parts()
    {
        var text = typeof(ProgramVersion).Assembly.GetCustomAttribute<AssemblyInformationalVersionAttribute>()?.InformationalVersion ?? "0.0.0";
        var plus = text.IndexOf('+', StringComparison.Ordinal);
        return plus < 0 ? (text, null) : (text[..plus], text[(plus + 1)..]);
    }
}
