using Commission.Core;
using Commission.Core.History;
using Commission.Workshop.Controllers;
using Commission.Workshop.Ports;

namespace Commission.Workshop.Requests;

/// <summary>What connecting found out.</summary>
/// <param name="Doubt">Why this may be another machine; null where nothing speaks against it.</param>
/// <param name="Interrupted">What is certain about an interrupted write; null where there was none.</param>
public sealed record Identity(string? Doubt, string? Interrupted);

/// <summary>Compares the controller with what was saved of the machine; the gate stays shut until that is settled.</summary>
public sealed class IdentifyController(IControllerLink link, IJournal journal, string machine)
{
    /// <summary>Reads the settings, compares, and tells the link where nothing speaks against it. A doubt is for the operator to settle.</summary>
    public async Task<Outcome<Identity>> RunAsync(CancellationToken cancellation)
    {
        var ledger = journal.Present(machine).Ledger;
        var saved = ledger.SettingsSaved.Select(entry => entry.Body).LastOrDefault(body => body.Machine == machine && body.Dialect == link.Dialect.Name);
        return (await link.SettingsAsync(cancellation).ConfigureAwait(false)).Then<Identity>(now =>
        {
            var doubt = saved is null ? null : SettingDifferences.AnotherMachine(link.Dialect, saved.Settings, now);
            if (doubt is null)
                link.TellIdentity(true);
            return new Identity(doubt, ControllerSettings.Interrupted(ledger.SettingsWritten.Select(write => write.Body), machine, now));
        });
    }
}
