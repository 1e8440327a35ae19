namespace Commission.App.Tests.Screens;

/// <summary>Ports remembered as long as a test lasts.</summary>
internal sealed class RememberedPorts : IKnownPorts
{
    private readonly Dictionary<string, KnownPort> _known = [];

    public KnownPort? Of(string machine) => _known.GetValueOrDefault(machine);

    public void Keep(string machine, KnownPort port) => _known[machine] = port;

    public void Forget(string machine) => _known.Remove(machine);
}
