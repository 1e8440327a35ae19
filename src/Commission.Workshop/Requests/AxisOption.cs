using Commission.Core;
using Commission.Core.Machines;
using Commission.Core.Quantities;

namespace Commission.Workshop.Requests;

/// <summary>The option <c>--axis</c>, the same wherever it stands.</summary>
public static class AxisOption
{
    /// <summary>The axis among options as they were typed; null where it was left out or is none, which is then a problem more.</summary>
    /// <param name="typed">The options by name.</param>
    /// <param name="problems">Where problems go.</param>
    public static AxisName? Read(IReadOnlyDictionary<string, string> typed, ICollection<Problem> problems)
    {
        if (!typed.TryGetValue("axis", out var text))
            return null;
        if (MachineWords.TypedAxis(text) is { } axis)
            return axis;
        problems.Add(None(text));
        return null;
    }

    /// <summary>The problem of what names no axis.</summary>
    public static Problem None(string typed) => new($"--axis \"{Words.Clean(typed)}\" is no axis", "Write X, Y or Z");
}
