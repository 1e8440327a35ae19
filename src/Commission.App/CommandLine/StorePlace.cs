namespace Commission.App.CommandLine;

/// <summary>Where the store lies when nobody names a folder.</summary>
internal static class StorePlace
{
    /// <summary>The data folder of the platform; on Linux after the XDG base directory rules.</summary>
    public static string Default()
    {
        var data = Environment.GetFolderPath(Environment.SpecialFolder.LocalApplicationData, Environment.SpecialFolderOption.DoNotVerify);
        return Path.Combine(data.Length > 0 ? data : Path.Combine(AppContext.BaseDirectory, "data"), "commission", "store");
    }

    /// <summary>Where the owner's own procedures lie: one folder for all stores, for procedures belong to no machine.</summary>
    /// <param name="defaultStore">The store that is meant where nobody names a folder.</param>
    public static string Procedures(string defaultStore) => Path.Combine(Path.GetDirectoryName(defaultStore)!, "procedures");
}
