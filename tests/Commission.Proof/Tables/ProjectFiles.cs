namespace Commission.Proof.Tables;

/// <summary>Finds files of the project from where the program was built.</summary>
internal static class ProjectFiles
{
    public static string Find(string path)
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
        {
            if (File.Exists(Path.Combine(folder.FullName, "Commission.sln")))
                return Path.Combine(folder.FullName, path);
        }

        throw new FileNotFoundException("the project's folder was not found above the program", path);
    }
}
