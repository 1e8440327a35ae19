namespace Commission.App.Rehearsal;

/// <summary>What the simulated operator has found so far and would write on a sheet of paper beside the machine.</summary>
internal sealed class Notebook
{
    private readonly Dictionary<(string Kind, string Parameter), double> _found = [];

    /// <summary>Squareness of X and Y as far as it is known and not yet put right, rad; null before it was measured.</summary>
    public double? Squareness { get; set; }

    /// <summary>Whether the rails were loosened, pushed and tightened.</summary>
    public bool RailsSet { get; set; }

    /// <summary>Expanded uncertainty of that squareness, rad; null where none could be given.</summary>
    public double? SquarenessUncertainty { get; private set; }

    /// <summary>What was found last; null where nothing was.</summary>
    public double? this[string kind, string parameter] => _found.TryGetValue((kind, parameter), out var value) ? value : null;

    /// <summary>Writes down a result.</summary>
    public void Write(string kind, string parameter, double value, double? expanded)
    {
        _found[(kind, parameter)] = value;
        if (parameter == "squareness")
            (Squareness, SquarenessUncertainty) = (value, expanded);
    }
}
